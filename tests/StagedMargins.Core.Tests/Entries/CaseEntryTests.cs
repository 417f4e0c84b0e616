using StagedMargins.Core.Care;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Entries;

public sealed class CaseEntryTests
{
    [Fact]
    public void A_case_with_every_kind_of_entry_is_made_again_from_what_was_stored()
    {
        var kept = WithEveryKind();
        kept.NewEntries.Select(entry => entry.Event.EntryKind.Word).Distinct().Order(StringComparer.Ordinal)
            .ShouldBe(CaseEntryKind.All.Select(kind => kind.Word).Order(StringComparer.Ordinal));
        StoredCase.Text(StoredCase.MadeAgain(kept)).ShouldBe(StoredCase.Text(kept.Case));
    }

    [Fact]
    public void Each_entry_decided_anew_is_the_entry_that_was_stored() =>
        StoredCase.Text(StoredCase.DecidedAgain(WithEveryKind())).ShouldBe(StoredCase.Text(WithEveryKind().Case));

    [Fact]
    public void The_history_says_each_entry_in_one_sentence()
    {
        var told = new List<string>();
        var before = SurgicalCase.Unopened(Some.Clinic, Guid.NewGuid());
        foreach (var (entry, written) in WithEveryKind().NewEntries)
        {
            told.Add(entry.Sentence(before, id => id == Some.OtherSurgeon ? "the other surgeon" : "someone"));
            before = before.Apply(entry, written);
        }

        told.ShouldAllBe(sentence => sentence.Length > 0 && !sentence.Contains("someone", StringComparison.Ordinal));
        told.ShouldContain("Case opened: left, alar crease (C44.3); basal cell carcinoma (8090/3).");
        told.ShouldContain("Stage 1 recorded: whole layer; blocks A, B.");
        told.ShouldContain("Stage 1, block C added: 3:00–4:00 o'clock.");
        told.ShouldContain("the other surgeon was asked to read stage 1, block A blind.");
        told.ShouldContain("Stage 1, block B: reading signed.");
        told.ShouldContain("Amended. Stage 1, block B: clear; the whole margin of the block was seen and shows no tumour. Reason given: second look");
        told.ShouldContain("Stage 1 corrected: 2026-03-03 09:09 (UTC−05:00) for 2026-03-03 09:10 (UTC−05:00). Reason given: clock was wrong");
        told.ShouldContain("Review answered (recurrence): call the patient back. called");
        told.ShouldContain("Local anaesthetic: lidocaine 1 %, 6.5 mL, with adrenaline.");
        told.ShouldContain("Case ended: stopped, not cleared, 2026-03-03 09:43 (UTC−05:00). Reason given: patient's wish");
    }

    [Fact]
    public void A_case_begins_with_the_entry_that_opens_it() =>
        Should.Throw<InvalidOperationException>(() => SurgicalCase.Unopened(Some.Clinic, Guid.NewGuid()).Apply(Some.Case().NewEntries[1].Event, new Authorship(Some.Surgeon, Some.At(1))));

    [Fact]
    public void A_trace_that_crosses_itself_is_refused_when_a_layer_from_elsewhere_is_decided_anew()
    {
        var crossing = new TraceOutline([new(-5_000, -5_000), new(5_000, 5_000), new(5_000, -5_000), new(-5_000, 5_000)]);
        var layer = (LayerRecorded)Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).NewEntries[^1].Event;
        var changed = layer with { Pieces = [new Piece(PieceKind.Whole, null, false, null, crossing, null)] };
        Refusal.OfEntry("pieces[0].outline.trace", () => changed.DecideAgain(Some.Case().Case, new Authorship(Some.Surgeon, Some.At(11))));
    }

    [Fact]
    public void Facts_that_can_not_be_right_are_refused_when_they_come_from_elsewhere()
    {
        var opened = (CaseOpened)Some.Case().NewEntries[0].Event;
        Refusal.OfEntry("morphology", () => (opened with { Facts = opened.Facts with { Tumour = opened.Facts.Tumour with { Morphology = "none" } } }).DecideAgain());
        Refusal.OfEntry("site.code", () => (opened with { Facts = opened.Facts with { Site = opened.Facts.Site with { Code = "44" } } }).DecideAgain());
        Refusal.OfEntry("weightKg", () => (opened with { Facts = opened.Facts with { WeightGrams = 299 } }).DecideAgain());
    }

    private static CaseLog WithEveryKind()
    {
        var kept = Some.Case();
        kept.Correct(Some.Facts() with { WeightGrams = 71_500, Indications = ["recurrent"] });
        kept.AddSitePhoto(new BarePicture("image/jpeg", 3, 2, [1, 2, 3]), Some.Histotech, Some.At(6));
        kept.Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00", centre: false));
        kept.Time(1, StageMoment.Received, 12);
        kept.Add(1, Some.Block("C", "03:00-04:00"));
        Read(kept, "A", 1, ReadingOutcome.Clear, Some.Surgeon);
        Read(kept, "B", 2, ReadingOutcome.Tumour, Some.Histotech, new FindingEntry(FindingKind.Tumour, Margin.Peripheral, null, new AlongSlide(0.25m, 0.5m, false), false));
        Read(kept, "C", 3, ReadingOutcome.Unreadable, Some.Surgeon);
        var second = kept.AskSecondRead(1, "A", Some.OtherSurgeon, Some.Surgeon, Some.At(32));
        kept.AnswerSecondRead(second.Number, ReadingOutcome.Clear, "agree", Some.OtherSurgeon, Some.At(33));
        var third = kept.AskSecondRead(1, "B", Some.OtherSurgeon, Some.Surgeon, Some.At(34));
        kept.GiveBackSecondRead(third.Number, "on leave", Some.OtherSurgeon, Some.At(35));
        var counting = kept.Case.StageOf(1).BlockOf("B").CountingReading!;
        kept.Countersign(counting.Id, Some.Surgeon, Some.At(36));
        kept.RecordReading(1, "B", CaseVerbs.Amendment(kept, 1, "B", ReadingOutcome.Clear, []) with { Id = Id(4) }, Some.Surgeon, Some.At(37));
        var dose = kept.RecordDose(new DoseEntry(LocalAnaesthetic.Lidocaine, 1, 6.5m, true, Some.At(38)), Some.Histotech, Some.At(38));
        kept.VoidDose(dose.Number, "another patient's", Some.Surgeon, Some.At(39));
        kept.SendForPermanentSection(1, "A", Some.At(40), "debulk", Some.Histotech, Some.At(40));
        kept.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Clear, Some.At(41)), Some.Surgeon, Some.At(41));
        kept.Measure(new MeasuredDefectEntry(new Length(14_000), new Length(10_000), AnatomicalPlane.SubcutaneousFat), Some.Surgeon, Some.At(42));
        kept.End(
            new EndingEntry(CaseOutcome.StoppedNotCleared, Some.At(43), "patient's wish", "refer", null, RepairKind.Flap),
            new MeasuredDefectEntry(new Length(15_000), new Length(10_000), null, "measured again"),
            Some.Surgeon,
            Some.At(44));
        kept.Reopen("second look", Some.Surgeon, Some.At(44));
        kept.CorrectStage(1, new StageCorrectionEntry(Some.At(9), null, null, "clock was wrong"), Some.Surgeon, Some.At(44));
        kept.Take([Some.Rim("01:00-02:00")], [], "patient bled").WithdrawStage(2, "never taken", Some.Surgeon, Some.At(44));
        kept.WithdrawReading(kept.Case.StageOf(1).BlockOf("A").CountingReading!.Id, "other slide", Some.Surgeon, Some.At(44));
        kept.RecordRepair(new RepairEntry(RepairKind.Flap, new DateOnly(2026, 3, 3)), Some.Surgeon, Some.At(45));
        kept.RecordVisit(new VisitEntry(new DateOnly(2026, 3, 3), true, "came back"), Some.Surgeon, Some.At(46));
        kept.AnswerReview(kept.Case.OpenReviews().Last().Id, ReviewDecision.RecallPatient, "called", Some.Surgeon, Some.At(46));
        kept.NoteImport(new CaseImported(new string('a', 64), 3, "2026-0142", "2026-0142", []), Some.Surgeon, Some.At(47));
        return kept;
    }

    private static void Read(CaseLog kept, string label, byte number, ReadingOutcome outcome, Guid byId, params FindingEntry[] findings) =>
        kept.RecordReading(1, label, CaseVerbs.Entry(outcome, findings) with { Id = Id(number) }, byId, Some.At(30));

    private static Guid Id(byte number) => new(1, 0, 0, [0, 0, 0, 0, 0, 0, 0, number]);
}
