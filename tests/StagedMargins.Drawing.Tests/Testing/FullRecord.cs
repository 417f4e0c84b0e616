using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>An invented case that has an entry of nearly every kind (those that correct a stage or end are in <see cref="CorrectedRecord"/>); and one as large as a case may be.</summary>
internal static class FullRecord
{
    internal static readonly Guid SecondReader = Guid.Parse("0198c0de-0000-7000-8000-000000000003");
    private static readonly DateOnly Day = new(2026, 3, 3);

    /// <summary>Ended as cleared while results were awaited; one of them differed later. The anaesthetic passed its label maximum.</summary>
    internal static CaseLog Of()
    {
        var to = Some.Case();
        to.ConfirmSite("mark seen by both", Some.Surgeon, Some.At(-20));
        var facts = to.Case.Facts with
        {
            Site = Site.Of("C44.3", BodySide.Left, "alar crease, upper part"),
            PreOperative = new PreOperativeSize(Length.FromMillimetres(21), Length.FromMillimetres(15), ClockFacePosition("02:00")),
            WeightGrams = 71_500,
        };
        to.CorrectFacts(facts, "measured again", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(-15));
        to.ConfirmSite(null, Some.Surgeon, Some.At(-12));
        to.ConfirmSite("with a mirror", Some.Histotech, Some.At(-10));
        Layers(to);
        Anaesthetic(to);
        Asked(to);
        to.End(new EndingEntry(CaseOutcome.Cleared, Some.At(200), "results are awaited", null, null, RepairKind.Flap), new MeasuredDefectEntry(Length.FromMillimetres(19), Length.FromMillimetres(14), null), Some.Surgeon, Some.At(201));
        Later(to);
        Evidence(to);
        return to;
    }

    /// <summary>As many stages of as many blocks as asked for; a third of the blocks of every stage but the last show tumour.</summary>
    internal static CaseLog Large(int stages, int blocks)
    {
        var to = Some.Case().Taken([Some.Ellipse(60, 40)], Some.Blocks(blocks));
        for (var stage = 1; ; stage++)
        {
            for (var i = 0; i < blocks; i++)
            {
                var block = to.Case.Stages[^1].Blocks[i];
                to = stage < stages && i % 3 == 0
                    ? to.Tumour(block.Label, new FindingEntry(FindingKind.Tumour, Margin.Peripheral, new(block.Arc!.Value.From.Plus(1), block.Arc.Value.From.Plus(3)), null, false))
                    : to.Clear(block.Label);
            }

            if (stage == stages)
            {
                return to;
            }

            to.Taken([Some.Rim("12:00", "12:00", 1)], Some.Blocks(blocks), "invented for a trial");
        }
    }

    private static Core.ClockFace.ClockPosition ClockFacePosition(string words) => Core.ClockFace.ClockPosition.Parse(words);

    private static void Layers(CaseLog to)
    {
        to.Taken([Some.Ellipse()], [Some.Block("A", "12:00", "06:00", "blue", "red", true), Some.Block("B", "06:00", "12:00", "red", "blue", true)]);
        to.RecordTimes(1, [new MomentTime(StageMoment.Received, Some.At(9))], Some.Histotech, Some.At(9));
        to.RecordTimes(1, [new MomentTime(StageMoment.Received, Some.At(6)), new MomentTime(StageMoment.SlidesReady, Some.At(34))], Some.Histotech, Some.At(35));
        to.Clear("A").Clear("B").Tumour("B", Some.Edge("07:30", "09:00"));
        to.Taken([Some.Rim("07:15", "09:15")], [Some.Block("A", "07:15", "09:15", "green", "black")]).ReadBy(Some.Histotech, "A", ReadingOutcome.Clear);
        to.Countersign(to.Case.Stages[1].Blocks[0].CountingReading!.Id, Some.Surgeon, Some.At(95));
    }

    private static void Anaesthetic(CaseLog to)
    {
        to.RecordDose(new DoseEntry(LocalAnaesthetic.Lidocaine, 1, 30, true, Some.At(-5)), Some.Surgeon, Some.At(-5));
        to.RecordDose(new DoseEntry(LocalAnaesthetic.Lidocaine, 2, 100, true, Some.At(45)), Some.Surgeon, Some.At(45));
        to.VoidDose(2, "10 mL were given", Some.Surgeon, Some.At(46));
        to.RecordDose(new DoseEntry(LocalAnaesthetic.Lidocaine, 2, 10, true, Some.At(45)), Some.Surgeon, Some.At(47));
        to.RecordDose(new DoseEntry(LocalAnaesthetic.Bupivacaine, 0.25m, 10, false, Some.At(120)), Some.Surgeon, Some.At(120));
    }

    private static void Asked(CaseLog to)
    {
        to.SendForPermanentSection(1, "A", Some.At(60), "deep edge", Some.Histotech, Some.At(60));
        to.SendForPermanentSection(1, "B", Some.At(60), null, Some.Histotech, Some.At(60));
        to.AskSecondRead(1, "A", SecondReader, Some.Surgeon, Some.At(70));
        to.AskSecondRead(2, "A", SecondReader, Some.Surgeon, Some.At(170));
    }

    private static void Evidence(CaseLog to)
    {
        to.AnswerSecondRead(1, ReadingOutcome.Tumour, "few cells", SecondReader, Some.At(2020), [Some.Edge("02:00", "02:20")]);
        to.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Clear, Some.At(2880)), Some.Surgeon, Some.At(2881));
        to.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Tumour, Some.At(2890), "at 2 o'clock", "deeper levels", [Some.Edge("02:00", "02:30")], "Dr Rook", "Quay Pathology"), Some.Surgeon, Some.At(2891));
        to.AnswerReview(to.Case.Reviews[0].Id, ReviewDecision.RecallPatient, "asked to come on Friday", Some.Surgeon, Some.At(2895));
    }

    private static void Later(CaseLog to)
    {
        to.RecordRepair(new RepairEntry(RepairKind.Flap, Day), Some.Surgeon, Some.At(230));
        to.RecordRepair(new RepairEntry(RepairKind.Graft, Day, "full thickness", "a graft was needed after all"), Some.Surgeon, Some.At(240));
        to.RecordVisit(new VisitEntry(Day.AddDays(1), true), Some.Surgeon, Some.At(2000));
        to.RecordVisit(new VisitEntry(Day.AddDays(1), false, "wound calm", 1, "entered in the wrong case"), Some.Surgeon, Some.At(2010));
    }
}
