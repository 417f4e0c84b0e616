using StagedMargins.Core.Mapping;

namespace StagedMargins.Core;

/// <summary>A value that cannot be right: malformed, out of range, or off the tissue. The caller can correct it and try again.</summary>
/// <param name="field">The field at fault, by its name in the API, for example <c>arc</c> or <c>pieces[0].widthMm</c>.</param>
/// <param name="message">What is wrong and what would be right. Never patient data.</param>
public sealed class InvalidEntryException(string field, string message) : Exception(message)
{
    /// <summary>The field at fault, by its name in the API.</summary>
    public string Field { get; } = field;

    /// <summary>The same refusal with its field seen from the object around it.</summary>
    /// <param name="outer">The name of the field that holds the object.</param>
    public InvalidEntryException Within(string outer) => new($"{outer}.{Field}", Message);
}

/// <summary>A step that the rules of the margins forbid now, though it is well formed.</summary>
/// <param name="rule">A stable word for the rule, for example <c>marginsNotClear</c>.</param>
/// <param name="message">What forbids it and what to do. Never patient data.</param>
/// <param name="places">The places on the margins that forbid it, where there are any.</param>
public sealed class RuleViolationException(string rule, string message, params IReadOnlyList<BlockingRegion> places) : Exception(message)
{
    /// <summary>A stable word for the rule.</summary>
    public string Rule { get; } = rule;

    /// <summary>The places that forbid the step.</summary>
    public IReadOnlyList<BlockingRegion> Places { get; } = places;
}

/// <summary>A part of the record that is not there.</summary>
/// <param name="message">What was not found. Never patient data.</param>
public sealed class NotInRecordException(string message) : Exception(message);

/// <summary>A place on a margin that forbids a step, and why.</summary>
/// <param name="Why"><see cref="Outstanding"/> or <see cref="Unread"/>, as the API says it.</param>
/// <param name="Margin">The margin it lies on.</param>
/// <param name="Region">Where.</param>
public sealed record BlockingRegion(string Why, Margin Margin, MarginRegion Region)
{
    /// <summary>Why: tumour was found there that no later layer has taken.</summary>
    public const string Outstanding = "outstanding";

    /// <summary>Why: its margin was not adequately seen.</summary>
    public const string Unread = "unread";
}
