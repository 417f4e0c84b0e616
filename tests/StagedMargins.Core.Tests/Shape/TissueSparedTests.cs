using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Shape;

/// <summary>
/// Fixed margins: basal cell 4 mm below 20 mm (D. J. Wolf and J. A. Zitelli, Arch Dermatol 1987;123:340–344, from memory), 5 to 6 mm
/// at high risk (An Bras Dermatol 2015, PMC4516103, abstract); squamous 4 mm or 6 mm (D. G. Brodland and J. A. Zitelli, J Am Acad
/// Dermatol 1992;27:241–248, read at second hand). Areas by Steiner's formula.
/// </summary>
public sealed class TissueSparedTests
{
    private const string BasalCell = "8090/3";
    private const string SquamousTumour = "8070/3";

    [Fact]
    public void The_fixed_excision_is_the_lesion_widened_by_the_margin()
    {
        var spared = TissueSpared.Of(Some.Facts(BasalCell, Some.Lesion(9, 7, "02:00")), Size(109.96)).ShouldNotBeNull();
        var expected = ClosedForm.Widened(ClosedForm.EllipseArea(9, 7), ClosedForm.EllipsePerimeter(9, 7), 4);
        spared.MarginMm.ShouldBe(4);
        spared.FixedExcisionMm2.ShouldBeWithin(expected, ClosedForm.Tight);
        spared.SparedMm2.ShouldBe(expected - 109.96, 0.02);
    }

    [Fact]
    public void A_wound_larger_than_the_fixed_excision_spares_less_than_nothing() =>
        TissueSpared.Of(Some.Facts(BasalCell, Some.Lesion(9, 7)), Size(1_000))!.SparedMm2.ShouldBeLessThan(-700);

    [Fact]
    public void Nothing_is_compared_without_a_size_or_a_published_margin()
    {
        TissueSpared.Of(Some.Facts(BasalCell), Size(100)).ShouldBeNull();
        TissueSpared.Of(Some.Facts("8720/3", Some.Lesion(9, 7)), Size(100)).ShouldBeNull();
    }

    [Theory]
    [InlineData(19.999, 4)]
    [InlineData(20, 5)]
    [InlineData(35, 5)]
    public void A_basal_cell_tumour_of_20_mm_or_more_has_the_larger_margin(double lengthMm, double marginMm)
    {
        Margin(Some.Facts(BasalCell, Some.Lesion((decimal)lengthMm, 7))).ShouldBe(marginMm);
        Margin(Some.Facts(BasalCell, Some.Lesion(7, (decimal)lengthMm))).ShouldBe(marginMm);
    }

    [Fact]
    public void A_basal_cell_tumour_that_recurred_or_has_no_clear_border_has_the_larger_margin()
    {
        var lesion = Some.Lesion(9, 7);
        Margin(Some.Facts(BasalCell, lesion, recurrent: false, border: TumourBorder.WellDefined)).ShouldBe(4);
        Margin(Some.Facts(BasalCell, lesion, recurrent: true)).ShouldBe(5);
        Margin(Some.Facts(BasalCell, lesion, border: TumourBorder.PoorlyDefined)).ShouldBe(5);
    }

    [Fact]
    public void A_squamous_tumour_has_the_small_margin_only_where_nothing_speaks_against_it()
    {
        var low = Some.Facts(SquamousTumour, Some.Lesion(9, 7), differentiation: Differentiation.Well, areaClass: AreaClass.M, deepestPlane: AnatomicalPlane.Dermis);
        Margin(low).ShouldBe(4);
        Margin(low with { PreOperative = Some.Lesion(20, 7) }).ShouldBe(6);
        Margin(low with { AreaClass = AreaClass.H }).ShouldBe(6);
        Margin(low with { AreaClass = null }).ShouldBe(6, "the site, the face, has it");
        Margin(low with { AreaClass = null, Site = Site.Of("C44.4", null, null) }).ShouldBe(4, "the site, the scalp, has M");
        Margin(low with { Tumour = low.Tumour with { Differentiation = Differentiation.Moderate } }).ShouldBe(6);
        Margin(low with { Tumour = low.Tumour with { Differentiation = Differentiation.Poor } }).ShouldBe(6);
        Margin(low with { Tumour = low.Tumour with { DeepestPlane = AnatomicalPlane.SubcutaneousFat } }).ShouldBe(6);
        Margin(low with { Tumour = low.Tumour with { DeepestPlane = AnatomicalPlane.Bone } }).ShouldBe(6);
    }

    private static double? Margin(CaseFacts facts) => TissueSpared.FixedMarginMm(facts);

    private static DefectSize Size(double areaMm2) => new(areaMm2, 40, 14, 10, null);
}
