using StagedMargins.Core.Care;
using StagedMargins.Core.FollowUp;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Care;

public sealed class AfterSurgeryTests
{
    private static readonly DateOnly Day = new(2026, 3, 4);

    [Fact]
    public void A_case_is_followed_to_its_last_visit_or_to_the_first_recurrence()
    {
        var surgicalCase = CareVerbs.Cleared();
        FollowedCase.Of(surgicalCase.Case).ShouldBeNull();
        surgicalCase.Visited("2026-03-13", recurrence: false);
        FollowedCase.Of(surgicalCase.Case).ShouldBe(new FollowedCase(10, false));
        surgicalCase.Visited("2027-03-03", recurrence: true);
        surgicalCase.Visited("2027-06-03", recurrence: false);
        FollowedCase.Of(surgicalCase.Case).ShouldBe(new FollowedCase(365, true));
    }

    [Fact]
    public void A_corrected_visit_does_not_count()
    {
        var surgicalCase = CareVerbs.Cleared();
        surgicalCase.Visited("2026-09-03", recurrence: true);
        Refusal.OfEntry("reason", () => surgicalCase.Visited("2026-09-03", recurrence: false, corrects: 1));
        Refusal.OfEntry("corrects", () => surgicalCase.Visited("2026-09-03", recurrence: false, corrects: 2, reason: "wrong case"));
        surgicalCase.Visited("2026-09-03", recurrence: false, corrects: 1, reason: "biopsy was a scar");
        surgicalCase.Case.CurrentVisits.ShouldHaveSingleItem().Number.ShouldBe(2);
        FollowedCase.Of(surgicalCase.Case)!.Recurrence.ShouldBeFalse();
        Refusal.OfStep("alreadyCorrected", () => surgicalCase.Visited("2026-09-03", recurrence: true, corrects: 1, reason: "after all"));
    }

    [Fact]
    public void A_case_that_was_not_cleared_is_not_counted_as_followed()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A", Some.TumourAt("01:00-02:00")).End(CaseOutcome.StoppedWithTumour);
        surgicalCase.Visited("2026-09-03", recurrence: true);
        FollowedCase.Of(surgicalCase.Case).ShouldBeNull();
    }

    [Theory]
    [InlineData("2026-03-02")]
    [InlineData("2030-01-02")]
    public void A_visit_lies_between_the_surgery_and_today(string day) =>
        Refusal.OfEntry("visitedOn", () => CareVerbs.Cleared().Visited(day, recurrence: false));

    [Fact]
    public void Without_tissue_there_is_nothing_to_repair_or_to_follow()
    {
        Refusal.OfStep("noTissue", () => Some.Case().Visited("2026-09-03", recurrence: false));
        Refusal.OfStep("noTissue", () => Repaired(Some.Case(), RepairKind.Flap));
    }

    [Fact]
    public void A_repair_that_corrects_what_was_said_gives_its_reason()
    {
        var surgicalCase = CareVerbs.Cleared();
        surgicalCase.Case.Ending!.Repair.ShouldBe(RepairKind.Flap);
        Refusal.OfEntry("reason", () => Repaired(surgicalCase, RepairKind.Graft));
        Repaired(surgicalCase, RepairKind.Flap);
        Refusal.OfEntry("reason", () => Repaired(surgicalCase, RepairKind.Flap));
        Repaired(surgicalCase, RepairKind.Graft, "flap not possible");
        surgicalCase.Case.Repairs[^1].Kind.ShouldBe(RepairKind.Graft);
    }

    [Fact]
    public void A_positive_permanent_section_makes_its_block_unread_until_a_surgeon_amends_the_reading()
    {
        var surgicalCase = CareVerbs.Cleared();
        surgicalCase.SendForPermanentSection(1, "A", Some.At(95), "deep edge", Some.Histotech, Some.At(95));
        surgicalCase.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Tumour, Some.At(99)), Some.Surgeon, Some.At(99));
        (surgicalCase.Margins().State, surgicalCase.Case.ClearedNow).ShouldBe((CaseState.AwaitingReadings, false));
        surgicalCase.Case.OpenReviews().Select(review => review.Code).ShouldBe([ReviewCode.PermanentDiffers, ReviewCode.Recall]);
        surgicalCase.Case.PermanentSectionsThatDiffer().ShouldHaveSingleItem();
        surgicalCase.Amend(1, "A");
        (surgicalCase.Margins().State, surgicalCase.Case.Recall).ShouldBe((CaseState.Cleared, true));
        var recall = surgicalCase.Case.OpenReviews().Last();
        Refusal.OfEntry("note", () => surgicalCase.AnswerReview(recall.Id, ReviewDecision.NoChange, null, Some.Surgeon, Some.At(101)));
        surgicalCase.AnswerReview(recall.Id, ReviewDecision.NoChange, "read again together", Some.Surgeon, Some.At(101));
        Refusal.OfStep("reviewAnswered", () => surgicalCase.AnswerReview(recall.Id, ReviewDecision.NoChange, "again", Some.Surgeon, Some.At(102)));
        (surgicalCase.Case.IsRecalled, surgicalCase.Case.Recall).ShouldBe((false, true));
    }

    [Fact]
    public void A_block_is_sent_once_and_a_changed_result_says_why()
    {
        var surgicalCase = CareVerbs.Cleared();
        Should.Throw<NotInRecordException>(() => surgicalCase.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Clear, Some.At(99)), Some.Surgeon, Some.At(99)));
        surgicalCase.SendForPermanentSection(1, "A", Some.At(95), null, Some.Histotech, Some.At(95));
        Refusal.OfStep("alreadySent", () => surgicalCase.SendForPermanentSection(1, "A", Some.At(95), null, Some.Histotech, Some.At(95)));
        Refusal.OfEntry("reportedAt", () => surgicalCase.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Clear, Some.At(94)), Some.Surgeon, Some.At(99)));
        surgicalCase.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Clear, Some.At(99)), Some.Surgeon, Some.At(99));
        Refusal.OfEntry("reason", () => surgicalCase.ReportPermanentSection(1, "A", new PermanentResultEntry(ReadingOutcome.Tumour, Some.At(99)), Some.Surgeon, Some.At(99)));
    }

    private static Repair Repaired(CaseLog surgicalCase, RepairKind kind, string? reason = null) =>
        surgicalCase.RecordRepair(new RepairEntry(kind, Day, null, reason), Some.Surgeon, CareVerbs.Later);
}
