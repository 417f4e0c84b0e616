using StagedMargins.Core.Audit;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Audit;

public sealed class CaseSummaryTests
{
    [Fact]
    public void A_case_cleared_at_its_first_stage_counts_there()
    {
        var summary = CaseSummary.Of(Open().Read(1, "A").End(CaseOutcome.Cleared).Case);
        (summary.ClearedStage, summary.Blocks, summary.Readings, summary.Amendments).ShouldBe((1, 1, 1, 0));

        // An ellipse of 14 × 10 mm has π·14·10/4 mm².
        ((double)summary.DefectUm2!.Value).ShouldBe(Math.PI * 35e6, 0.005 * Math.PI * 35e6);
        (summary.LesionUm2, summary.SparedUm2).ShouldBe((null, null));
        summary.Stages.ShouldBe([new StageSummary(1, 19)]);
    }

    [Fact]
    public void A_margin_that_seemed_clear_before_tumour_was_found_counts_where_it_became_clear()
    {
        var surgicalCase = Open().Read(1, "A")
            .Take(Some.Rim("07:00-10:00"), Some.Block("A", "07:00-10:00")).Read(2, "A", Some.TumourAt("07:30-08:00"))
            .Take(Some.Rim("07:00-10:00"), Some.Block("A", "07:00-10:00")).Read(3, "A").End(CaseOutcome.Cleared);
        CaseSummary.Of(surgicalCase.Case).ClearedStage.ShouldBe(3);
    }

    [Fact]
    public void A_case_that_an_amendment_leaves_not_clear_was_cleared_at_no_stage()
    {
        var surgicalCase = Open().Read(1, "A").End(CaseOutcome.Cleared);
        surgicalCase.Amend(1, "A", Some.TumourAt("07:30-09:00"));
        var summary = CaseSummary.Of(surgicalCase.Case);
        (summary.ClearedStage, summary.Readings, summary.Amendments, summary.Recuts).ShouldBe((null, 2, 1, 0));
    }

    [Fact]
    public void A_reading_after_a_recut_is_told_from_a_change_of_mind()
    {
        var surgicalCase = Open().Read(1, "A").AmendUnreadable(1, "A").Amend(1, "A").End(CaseOutcome.Cleared);
        var summary = CaseSummary.Of(surgicalCase.Case);
        (summary.Unreadable, summary.Amendments, summary.Recuts).ShouldBe((1, 2, 1));
    }

    [Fact]
    public void A_reading_that_leaves_a_place_unseen_or_undecided_is_counted_once()
    {
        var surgicalCase = Open().Read(1, "A", Some.Found(FindingKind.NotSeen, Margin.Peripheral, "01:00-02:00"), Some.Found(FindingKind.Undetermined, Margin.Deep, "03:00-04:00"))
            .Amend(1, "A").End(CaseOutcome.Cleared);
        var summary = CaseSummary.Of(surgicalCase.Case);
        (summary.Readings, summary.NotSeen).ShouldBe((2, 1));
    }

    [Fact]
    public void A_withdrawn_stage_a_reading_that_went_with_it_and_a_reopening_are_counted()
    {
        var surgicalCase = Open().Read(1, "A").Take(Some.Rim("07:00-10:00"), Some.Block("A", "07:00-10:00"));
        surgicalCase.WithdrawStage(2, "never taken", Some.Surgeon, Some.At(100));
        surgicalCase.End(CaseOutcome.Cleared);
        surgicalCase.Reopen("closed too early", Some.Surgeon, Some.At(110));
        Should.Throw<InvalidOperationException>(() => CaseSummary.Of(surgicalCase.Case));
        surgicalCase.WithdrawReading(surgicalCase.Case.Readings().Single().Id, "wrong slide", Some.Surgeon, Some.At(120));
        surgicalCase.Read(1, "A").End(CaseOutcome.Cleared);
        var summary = CaseSummary.Of(surgicalCase.Case);
        (summary.Corrections, summary.Reopenings, summary.Readings, summary.Withdrawn).ShouldBe((1, 1, 2, 1));
    }

    [Fact]
    public void Reviews_are_counted_as_open_until_a_surgeon_answers()
    {
        var surgicalCase = Open().Read(1, "A").End(CaseOutcome.Cleared);
        surgicalCase.Amend(1, "A", Some.TumourAt("07:30-09:00"));
        CaseSummary.Of(surgicalCase.Case).ShouldSatisfyAllConditions(summary => summary.ReviewsOpen.ShouldBe(1), summary => summary.ReviewsAnswered.ShouldBe(0));
        surgicalCase.AnswerReview(surgicalCase.Case.Reviews.Single().Id, ReviewDecision.Observe, "small focus", Some.Surgeon, Some.At(500));
        CaseSummary.Of(surgicalCase.Case).ShouldSatisfyAllConditions(summary => summary.ReviewsOpen.ShouldBe(0), summary => summary.ReviewsAnswered.ShouldBe(1));
    }

    [Fact]
    public void A_paused_case_has_no_part_in_the_audit()
    {
        var paused = Open();
        paused.End(new EndingEntry(CaseOutcome.ContinuesLater, Some.At(60), null, null, new DateOnly(2026, 3, 10), null), null, Some.Surgeon, Some.At(60));
        Should.Throw<InvalidOperationException>(() => CaseSummary.Of(paused.Case));
    }

    [Fact]
    public void An_open_case_has_no_part_in_the_audit() => Should.Throw<InvalidOperationException>(() => CaseSummary.Of(Open().Case));

    // The limits of the T categories, 20 and 40 mm, belong to the larger band; 10 mm is common practice, no source.
    [Theory]
    [InlineData(9.999, SizeBand.Under10Mm)]
    [InlineData(10, SizeBand.From10Mm)]
    [InlineData(19.999, SizeBand.From10Mm)]
    [InlineData(20, SizeBand.From20Mm)]
    [InlineData(40, SizeBand.From40Mm)]
    public void A_size_falls_in_the_band_that_begins_with_it(double mm, SizeBand band) =>
        CaseSummary.BandOf(Some.Lesion(5, (decimal)mm)).ShouldBe(band);

    // ICD-O-3 morphology, WHO.
    [Theory]
    [InlineData("8090/3", TumourGroup.BasalCell)]
    [InlineData("8097/3", TumourGroup.BasalCell)]
    [InlineData("8070/3", TumourGroup.SquamousCell)]
    [InlineData("8081/2", TumourGroup.SquamousCell)]
    [InlineData("8742/2", TumourGroup.Melanocytic)]
    [InlineData("8700/3", TumourGroup.Other)]
    [InlineData("8832/3", TumourGroup.Other)]
    public void A_tumour_falls_in_the_group_of_its_code(string morphology, TumourGroup group) =>
        CaseSummary.GroupOf(Some.Facts(morphology).Tumour).ShouldBe(group);

    private static CaseLog Open() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));
}
