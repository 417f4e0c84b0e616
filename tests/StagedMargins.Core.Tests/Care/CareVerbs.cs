using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Care;

/// <summary>The verbs around the loop, with what a test is not about filled in.</summary>
internal static class CareVerbs
{
    public static readonly ClinicalTime Later = ClinicalTime.From(new DateTimeOffset(2030, 1, 1, 9, 0, 0, TimeSpan.FromHours(-5)));

    public static CaseLog Given(this CaseLog surgicalCase, LocalAnaesthetic agent, decimal percent, decimal volumeMl, bool adrenaline)
    {
        surgicalCase.RecordDose(new DoseEntry(agent, percent, volumeMl, adrenaline, Some.At(5)), Some.Histotech, Some.At(6));
        return surgicalCase;
    }

    public static CaseLog Cleared() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A").End(CaseOutcome.Cleared);

    public static Visit Visited(this CaseLog surgicalCase, string day, bool recurrence, int? corrects = null, string? reason = null) =>
        surgicalCase.RecordVisit(new VisitEntry(DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture), recurrence, null, corrects, reason), Some.Surgeon, Later);
}
