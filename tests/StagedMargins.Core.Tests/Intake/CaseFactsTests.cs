using StagedMargins.Core.Intake;

namespace StagedMargins.Core.Tests.Intake;

/// <summary>Codes are of the International Classification of Diseases for Oncology, third edition (ICD-O-3, WHO).</summary>
public sealed class CaseFactsTests
{
    [Theory]
    [InlineData("C44.3")]
    [InlineData("C44.0")]
    [InlineData("C63.2")]
    public void A_topography_code_is_kept_as_it_is(string code) => Site.Of(code, BodySide.Left, " alar crease ").ShouldBe(new Site(code, BodySide.Left, "alar crease"));

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("C44")]
    [InlineData("c44.3")]
    [InlineData("C44.31")]
    [InlineData("C443")]
    [InlineData(" C44.3")]
    [InlineData("C44.3\n")]
    public void Any_other_topography_is_refused(string? code) => Refusal.OfEntry("code", () => Site.Of(code, null, null));

    [Fact]
    public void The_detail_of_a_site_is_short() =>
        Refusal.OfEntry("detail", () => Site.Of("C44.3", null, new string('x', FreeText.LongestShort + 1)));

    [Theory]
    [InlineData("8070/3", false, true)]
    [InlineData("8051/3", false, true)]
    [InlineData("8083/3", false, true)]
    [InlineData("8090/3", true, false)]
    [InlineData("8097/3", true, false)]
    [InlineData("8720/3", false, false)]
    [InlineData("8247/3", false, false)]
    [InlineData("8041/3", false, false)]
    public void The_family_of_a_tumour_follows_from_its_morphology(string code, bool basalCell, bool squamous)
    {
        var tumour = Some.Facts(Tumour.CheckMorphology(code)).Tumour;
        (tumour.IsBasalCell(), tumour.IsSquamous()).ShouldBe((basalCell, squamous));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("8070")]
    [InlineData("7070/3")]
    [InlineData("8070/33")]
    [InlineData("M8070/3")]
    [InlineData("8070/3\n")]
    public void Any_other_morphology_is_refused(string? code) => Refusal.OfEntry("morphology", () => Tumour.CheckMorphology(code));

    [Fact]
    public void The_lesion_is_an_ellipse()
    {
        Some.Lesion(9, 7).AreaMm2().ShouldBe(49.48, 0.005);
        Some.Lesion(9, 7).Largest().ShouldBe(Some.Mm(9));
        Some.Lesion(7, 9).Largest().ShouldBe(Some.Mm(9));
        Some.Lesion(7, 7).Largest().ShouldBe(Some.Mm(7));
    }
}
