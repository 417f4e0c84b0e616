using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests;

/// <summary>The verbs of a case with the clinic's usual overlap, by the surgeon, one minute after another.</summary>
internal static class CaseVerbs
{
    public static SurgicalCase Take(this SurgicalCase surgicalCase, Piece piece, params BlockEntry[] blocks) => surgicalCase.Take([piece], blocks);

    public static SurgicalCase Take(this SurgicalCase surgicalCase, Piece[] pieces, BlockEntry[] blocks, string? reason = null, int overlap = 15)
    {
        surgicalCase.RecordLayer(new Layer(Some.At(10), pieces, blocks, reason), new Overlap(overlap), Some.Surgeon, Some.At(11));
        return surgicalCase;
    }

    /// <summary>Someone confirms the site.</summary>
    public static SurgicalCase Confirm(this SurgicalCase surgicalCase, Guid byId)
    {
        surgicalCase.ConfirmSite(null, byId, Some.At(1));
        return surgicalCase;
    }

    /// <summary>A correction of the facts by the surgeon.</summary>
    public static SurgicalCase Correct(this SurgicalCase surgicalCase, CaseFacts facts)
    {
        surgicalCase.CorrectFacts(facts, "report came", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(5));
        return surgicalCase;
    }

    /// <summary>A reading by the surgeon: tumour where a finding is positive, else clear.</summary>
    public static SurgicalCase Read(this SurgicalCase surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.Record(stage, label, Entry(NaturalOutcome(findings), findings));

    public static SurgicalCase Unreadable(this SurgicalCase surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.Record(stage, label, Entry(ReadingOutcome.Unreadable, findings));

    public static SurgicalCase Amend(this SurgicalCase surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.Record(stage, label, Amendment(surgicalCase, stage, label, NaturalOutcome(findings), findings));

    public static SurgicalCase AmendUnreadable(this SurgicalCase surgicalCase, int stage, string label) =>
        surgicalCase.Record(stage, label, Amendment(surgicalCase, stage, label, ReadingOutcome.Unreadable, []));

    /// <summary>A reading that the histotech wrote down for the surgeon.</summary>
    public static Reading Draft(this SurgicalCase surgicalCase, int stage, string label, params FindingEntry[] findings) =>
        surgicalCase.RecordReading(stage, label, Entry(NaturalOutcome(findings), findings), Some.Histotech, Some.At(30));

    public static SurgicalCase Record(this SurgicalCase surgicalCase, int stage, string label, ReadingEntry entry)
    {
        surgicalCase.RecordReading(stage, label, entry, Some.Surgeon, Some.At(30));
        return surgicalCase;
    }

    /// <summary>An entry by the histotech of when a moment of a stage came.</summary>
    public static Stage Time(this SurgicalCase surgicalCase, int stage, StageMoment moment, int minute) =>
        surgicalCase.RecordTimes(stage, [new MomentTime(moment, Some.At(minute))], Some.Histotech, Some.At(minute + 1));

    public static SurgicalCase Add(this SurgicalCase surgicalCase, int stage, BlockEntry block)
    {
        surgicalCase.AddBlock(stage, block, Some.Surgeon, Some.At(20));
        return surgicalCase;
    }

    public static SurgicalCase End(this SurgicalCase surgicalCase, CaseOutcome outcome)
    {
        surgicalCase.End(new EndingEntry(outcome, Some.At(90), "patient's wish", "refer", null, RepairKind.Flap), null, Some.Surgeon, Some.At(91));
        return surgicalCase;
    }

    public static CaseMargins Margins(this SurgicalCase surgicalCase) => surgicalCase.Margins(Some.Overlap);

    public static ReadingEntry Entry(ReadingOutcome outcome, params FindingEntry[] findings) =>
        new(outcome, Some.Surgeon, Some.At(29), findings);

    public static ReadingEntry Amendment(SurgicalCase surgicalCase, int stage, string label, ReadingOutcome outcome, FindingEntry[] findings) =>
        Entry(outcome, findings) with { AmendsId = surgicalCase.StageOf(stage).BlockOf(label).CountingReading!.Id, Reason = "second look" };

    private static ReadingOutcome NaturalOutcome(FindingEntry[] findings) =>
        findings.Any(finding => finding.Kind is FindingKind.Tumour or FindingKind.PerineuralInvasion) ? ReadingOutcome.Tumour : ReadingOutcome.Clear;
}
