using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests;

/// <summary>The verbs of a case with the clinic's usual overlap, by the surgeon, one minute after another.</summary>
internal static class CaseVerbs
{
    public static SurgicalCase Take(this SurgicalCase of, Piece piece, params BlockEntry[] blocks) => of.Take([piece], blocks);

    public static SurgicalCase Take(this SurgicalCase of, Piece[] pieces, BlockEntry[] blocks, string? reason = null, int overlap = 15)
    {
        of.RecordLayer(new Layer(Some.At(10), pieces, blocks, reason), new Overlap(overlap), Some.Surgeon, Some.At(11));
        return of;
    }

    /// <summary>Someone confirms the site.</summary>
    public static SurgicalCase Confirm(this SurgicalCase of, Guid byId)
    {
        of.ConfirmSite(null, Some.Overlap, byId, Some.At(1));
        return of;
    }

    /// <summary>A correction of the facts by the surgeon.</summary>
    public static SurgicalCase Correct(this SurgicalCase of, CaseFacts facts)
    {
        of.CorrectFacts(facts, "report came", SizeBoundary.BelongsAbove, Some.Overlap, Some.Surgeon, Some.At(5));
        return of;
    }

    /// <summary>A reading by the surgeon: tumour where a finding is positive, else clear.</summary>
    public static SurgicalCase Read(this SurgicalCase of, int stage, string label, params FindingEntry[] findings) =>
        of.Record(stage, label, Entry(NaturalOutcome(findings), findings));

    public static SurgicalCase Unreadable(this SurgicalCase of, int stage, string label, params FindingEntry[] findings) =>
        of.Record(stage, label, Entry(ReadingOutcome.Unreadable, findings));

    public static SurgicalCase Amend(this SurgicalCase of, int stage, string label, params FindingEntry[] findings) =>
        of.Record(stage, label, Amendment(of, stage, label, NaturalOutcome(findings), findings));

    public static SurgicalCase AmendUnreadable(this SurgicalCase of, int stage, string label) =>
        of.Record(stage, label, Amendment(of, stage, label, ReadingOutcome.Unreadable, []));

    /// <summary>A reading that the histotech wrote down for the surgeon.</summary>
    public static Reading Draft(this SurgicalCase of, int stage, string label, params FindingEntry[] findings) =>
        of.RecordReading(stage, label, Entry(NaturalOutcome(findings), findings), Some.Overlap, Some.Histotech, Some.At(30));

    public static SurgicalCase Record(this SurgicalCase of, int stage, string label, ReadingEntry entry)
    {
        of.RecordReading(stage, label, entry, Some.Overlap, Some.Surgeon, Some.At(30));
        return of;
    }

    /// <summary>An entry by the histotech of when a moment of a stage came.</summary>
    public static Stage Time(this SurgicalCase of, int stage, StageMoment moment, int minute) =>
        of.RecordTimes(stage, new Dictionary<StageMoment, ClinicalTime> { [moment] = Some.At(minute) }, Some.Overlap, Some.Histotech, Some.At(minute + 1));

    public static SurgicalCase Add(this SurgicalCase of, int stage, BlockEntry block)
    {
        of.AddBlock(stage, block, Some.Overlap, Some.Surgeon, Some.At(20));
        return of;
    }

    public static SurgicalCase End(this SurgicalCase of, CaseOutcome outcome)
    {
        of.End(new EndingEntry(outcome, Some.At(90), "patient's wish", "refer", null, RepairKind.Flap), null, Some.Overlap, Some.Surgeon, Some.At(91));
        return of;
    }

    public static CaseMargins Margins(this SurgicalCase of) => of.Margins(Some.Overlap);

    public static ReadingEntry Entry(ReadingOutcome outcome, params FindingEntry[] findings) =>
        new(outcome, Some.Surgeon, Some.At(29), findings);

    public static ReadingEntry Amendment(SurgicalCase of, int stage, string label, ReadingOutcome outcome, FindingEntry[] findings) =>
        Entry(outcome, findings) with { AmendsId = of.StageOf(stage).BlockOf(label).CountingReading!.Id, Reason = "second look" };

    private static ReadingOutcome NaturalOutcome(FindingEntry[] findings) =>
        findings.Any(finding => finding.Kind is FindingKind.Tumour or FindingKind.PerineuralInvasion) ? ReadingOutcome.Tumour : ReadingOutcome.Clear;
}
