using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests;

/// <summary>The verbs of a case with the clinic's usual overlap, by the surgeon, one minute after another.</summary>
internal static class CaseVerbs
{
    public static CaseLog Take(this CaseLog surgicalCase, Piece piece, params BlockEntry[] blocks) => surgicalCase.Take([piece], blocks);

    public static CaseLog Take(this CaseLog surgicalCase, Piece[] pieces, BlockEntry[] blocks, string? reason = null, int overlap = 15)
    {
        surgicalCase.RecordLayer(new Layer(Some.At(10), pieces, blocks, reason), new Overlap(overlap), Some.Surgeon, Some.At(11));
        return surgicalCase;
    }

    /// <summary>Someone confirms the site.</summary>
    public static CaseLog Confirm(this CaseLog surgicalCase, Guid byId)
    {
        surgicalCase.ConfirmSite(null, byId, Some.At(1));
        return surgicalCase;
    }

    /// <summary>A correction of the facts by the surgeon.</summary>
    public static CaseLog Correct(this CaseLog surgicalCase, CaseFacts facts)
    {
        surgicalCase.CorrectFacts(facts, "report came", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(5));
        return surgicalCase;
    }

    /// <summary>A reading by the surgeon: tumour where a finding is positive, else clear.</summary>
    public static CaseLog Read(this CaseLog surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.Record(stage, label, Entry(NaturalOutcome(findings), findings));

    public static CaseLog Unreadable(this CaseLog surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.Record(stage, label, Entry(ReadingOutcome.Unreadable, findings));

    public static CaseLog Amend(this CaseLog surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.Record(stage, label, Amendment(surgicalCase, stage, label, NaturalOutcome(findings), findings));

    public static CaseLog AmendUnreadable(this CaseLog surgicalCase, int stage, string label) =>
        surgicalCase.Record(stage, label, Amendment(surgicalCase, stage, label, ReadingOutcome.Unreadable, []));

    /// <summary>A reading that the histotech wrote down for the surgeon.</summary>
    public static Reading Draft(this CaseLog surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.RecordReading(stage, label, Entry(NaturalOutcome(findings), findings), Some.Histotech, Some.At(30));

    public static CaseLog Record(this CaseLog surgicalCase, int stage, string label, ReadingEntry entry)
    {
        surgicalCase.RecordReading(stage, label, entry, Some.Surgeon, Some.At(30));
        return surgicalCase;
    }

    /// <summary>An entry by the histotech of when a moment of a stage came.</summary>
    public static Stage Time(this CaseLog surgicalCase, int stage, StageMoment moment, int minute) =>
        surgicalCase.RecordTimes(stage, [new MomentTime(moment, Some.At(minute))], Some.Histotech, Some.At(minute + 1));

    public static CaseLog Add(this CaseLog surgicalCase, int stage, BlockEntry block)
    {
        surgicalCase.AddBlock(stage, block, Some.Surgeon, Some.At(20));
        return surgicalCase;
    }

    public static CaseLog End(this CaseLog surgicalCase, CaseOutcome outcome)
    {
        surgicalCase.End(new EndingEntry(outcome, Some.At(90), "patient's wish", "refer", outcome == CaseOutcome.ContinuesLater ? new DateOnly(2026, 3, 4) : null, RepairKind.Flap), null, Some.Surgeon, Some.At(91));
        return surgicalCase;
    }

    public static CaseMargins Margins(this CaseLog surgicalCase) => surgicalCase.Case.Margins(Some.Overlap);

    public static ReadingEntry Entry(ReadingOutcome outcome, params FindingEntry[] findings) =>
        new(outcome, Some.Surgeon, Some.At(29), findings);

    public static ReadingEntry Amendment(CaseLog surgicalCase, int stage, string label, ReadingOutcome outcome, FindingEntry[] findings) =>
        Entry(outcome, findings) with { AmendsId = surgicalCase.Case.StageOf(stage).BlockOf(label).CountingReading!.Id, Reason = "second look" };

    private static ReadingOutcome NaturalOutcome(FindingEntry[] findings) =>
        findings.Any(finding => finding.Kind is FindingKind.Tumour or FindingKind.PerineuralInvasion) ? ReadingOutcome.Tumour : ReadingOutcome.Clear;
}
