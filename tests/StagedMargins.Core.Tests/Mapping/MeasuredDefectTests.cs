using CsCheck;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class MeasuredDefectTests
{
    private static readonly DefectSize Computed = new(109.96, 37.96, 14, 10, null);

    [Theory]
    [InlineData(14, 10)]
    [InlineData(17.5, 12.5)]
    [InlineData(10.5, 7.5)]
    public void A_difference_of_a_quarter_or_less_is_not_asked_about(double lengthMm, double widthMm) =>
        Measured((decimal)lengthMm, (decimal)widthMm).QuestionBeside(Computed).ShouldBeNull();

    [Theory]
    [InlineData(17.501, 10, "length measured 17.5 mm, computed 14 mm")]
    [InlineData(10.499, 10, "length measured 10.5 mm, computed 14 mm")]
    [InlineData(14, 12.501, "width measured 12.5 mm, computed 10 mm")]
    [InlineData(14, 7.499, "width measured 7.5 mm, computed 10 mm")]
    [InlineData(28, 20, "length measured 28 mm, computed 14 mm; width measured 20 mm, computed 10 mm")]
    public void A_larger_difference_is_asked_about_with_both_figures(double lengthMm, double widthMm, string figures) =>
        Measured((decimal)lengthMm, (decimal)widthMm).QuestionBeside(Computed).ShouldNotBeNull().ShouldContain(figures);

    [Fact]
    public void Exactly_a_quarter_is_not_asked_about_whichever_way_the_ellipse_lies() => Gen.Int[0, 719].Sample(axis =>
    {
        var outline = new EllipseOutline(Some.Mm(14), Some.Mm(10), new ClockPosition(axis));
        var computed = Defect.After(Some.Case().Take(Some.Whole(outline)).Case.Stages)!.Size;
        Measured(17.5m, 12.5m).QuestionBeside(computed).ShouldBeNull();
        Measured(10.5m, 7.5m).QuestionBeside(computed).ShouldBeNull();
        Measured(17.501m, 12.5m).QuestionBeside(computed).ShouldNotBeNull();
        Measured(10.5m, 7.499m).QuestionBeside(computed).ShouldNotBeNull();
    }, iter: 50);

    [Fact]
    public void Nothing_is_asked_where_nothing_was_computed() => Measured(14, 10).QuestionBeside(null).ShouldBeNull();

    [Fact]
    public void There_is_no_defect_to_measure_before_the_first_layer()
    {
        var entry = new MeasuredDefectEntry(Some.Mm(14), Some.Mm(10), null);
        Refusal.OfStep("noTissue", () => Some.Case().Measure(entry, Some.Surgeon, Some.At(60)));
        var surgicalCase = Some.Case();
        var ending = new EndingEntry(CaseOutcome.NotDone, Some.At(90), "patient's wish", null, null, null);
        Refusal.OfStep("noTissue", () => surgicalCase.End(ending, entry, Some.Surgeon, Some.At(91)));
        (surgicalCase.Case.Ending, surgicalCase.Case.MeasuredDefects.Count).ShouldBe((null, 0));
    }

    [Fact]
    public void A_second_measurement_says_why_and_the_first_stays()
    {
        var surgicalCase = Some.Case().Take(Some.Whole());
        var entry = new MeasuredDefectEntry(Some.Mm(14), Some.Mm(10), AnatomicalPlane.Fascia);
        var first = surgicalCase.Measure(entry, Some.Surgeon, Some.At(60));
        (first.Ordinal, first.Length, first.Width, first.Plane, first.RecordedById).ShouldBe((1, Some.Mm(14), Some.Mm(10), AnatomicalPlane.Fascia, Some.Surgeon));
        Refusal.OfEntry("reason", () => surgicalCase.Measure(entry, Some.Surgeon, Some.At(61)));
        surgicalCase.Measure(entry with { Length = Some.Mm(15), Reason = "ruler slipped" }, Some.Surgeon, Some.At(62));
        surgicalCase.Case.MeasuredDefects.Select(defect => defect.Length).ShouldBe([Some.Mm(14), Some.Mm(15)]);
    }

    [Fact]
    public void The_ending_may_bring_the_measurement()
    {
        var surgicalCase = Some.Case().Take(Some.Whole());
        var ending = new EndingEntry(CaseOutcome.ContinuesLater, Some.At(90), null, null, new DateOnly(2026, 3, 4), null);
        surgicalCase.End(ending, new MeasuredDefectEntry(Some.Mm(14), Some.Mm(10), null), Some.Surgeon, Some.At(91));
        surgicalCase.Case.MeasuredDefects.ShouldHaveSingleItem().Length.ShouldBe(Some.Mm(14));
    }

    private static MeasuredDefect Measured(decimal lengthMm, decimal widthMm) => Some.Case().Take(Some.Whole())
        .Measure(new MeasuredDefectEntry(Some.Mm(lengthMm), Some.Mm(widthMm), null), Some.Surgeon, Some.At(60));
}
