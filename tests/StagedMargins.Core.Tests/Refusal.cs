namespace StagedMargins.Core.Tests;

/// <summary>Checks that a step is refused, and for the reason that is meant.</summary>
internal static class Refusal
{
    public static InvalidEntryException OfEntry(string field, Action act)
    {
        var refusal = Should.Throw<InvalidEntryException>(act);
        refusal.Field.ShouldBe(field);
        return refusal;
    }

    public static RuleViolationException OfStep(string rule, Action act)
    {
        var refusal = Should.Throw<RuleViolationException>(act);
        refusal.Rule.ShouldBe(rule);
        return refusal;
    }
}
