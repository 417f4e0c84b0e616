using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Risk;

/// <summary>
/// AJCC Cancer Staging Manual, 8th edition (2017), chapter 15, as given second-hand by NCI Thesaurus C133258 (sizes) and by an AJNR
/// review, Table 8 with notes a and b (upgrades, scope); the scope also by NCI Thesaurus C4524464.
/// </summary>
public sealed class Ajcc8Tests
{
    [Theory]
    [InlineData("19.99", SizeBoundary.BelongsAbove, "T1")]
    [InlineData("19.999", SizeBoundary.BelongsAbove, "T1")]
    [InlineData("20", SizeBoundary.BelongsAbove, "T2")]
    [InlineData("20", SizeBoundary.BelongsBelow, "T1")]
    [InlineData("20.001", SizeBoundary.BelongsBelow, "T2")]
    [InlineData("39.999", SizeBoundary.BelongsAbove, "T2")]
    [InlineData("40", SizeBoundary.BelongsAbove, "T3")]
    [InlineData("40", SizeBoundary.BelongsBelow, "T2")]
    [InlineData("40.001", SizeBoundary.BelongsBelow, "T3")]
    public void Size_alone_gives_T1_to_T3_and_the_setting_decides_at_exactly_2_and_4_cm(string mm, SizeBoundary boundary, string t) =>
        Ajcc8.Classify(SquamousTumour.Plain.Sized(decimal.Parse(mm, System.Globalization.CultureInfo.InvariantCulture)), boundary).T.ShouldBe(t);

    [Theory]
    [InlineData("6", AnatomicalPlane.SubcutaneousFat, "T1")]
    [InlineData("6.001", AnatomicalPlane.SubcutaneousFat, "T3")]
    [InlineData("2", AnatomicalPlane.Fascia, "T3")]
    public void Deep_invasion_is_beyond_fat_or_more_than_6_mm(string depth, AnatomicalPlane plane, string t)
    {
        var category = Of(SquamousTumour.Plain.With(tumour => tumour with { Depth = Some.Mm(decimal.Parse(depth, System.Globalization.CultureInfo.InvariantCulture)), DeepestPlane = plane }));
        category.T.ShouldBe(t);
        category.Factors.ShouldBe(t == "T3" ? [TFactor.DeepInvasion] : []);
    }

    [Fact]
    public void Perineural_invasion_counts_from_a_tenth_of_a_millimetre_or_in_a_named_nerve()
    {
        Of(SquamousTumour.Plain.Nerve(0.1m)).Factors.ShouldBe([TFactor.PerineuralInvasion]);
        Of(SquamousTumour.Plain.Nerve(0.1m)).T.ShouldBe("T3");
        Of(SquamousTumour.Plain.Nerve(0.099m)).T.ShouldBe("T1");
        Of(SquamousTumour.Plain.Nerve(null, named: true)).T.ShouldBe("T3");
        Of(SquamousTumour.Plain.Nerve(0.099m, named: true)).T.ShouldBe("T3");
    }

    // Note b of the review: the third way, and alone enough.
    [Fact]
    public void A_nerve_deeper_than_the_dermis_counts_whatever_its_calibre_and_name()
    {
        Of(SquamousTumour.Plain.Nerve(0.05m, deep: true)).T.ShouldBe("T3");
        Of(SquamousTumour.Plain.Nerve(0.05m, deep: true)).Factors.ShouldBe([TFactor.PerineuralInvasion]);
        Of(SquamousTumour.Plain.Nerve(0.05m)).T.ShouldBe("T1");
        Of(SquamousTumour.Plain.Nerve(0.05m)).Missing.ShouldBeEmpty();
    }

    [Fact]
    public void What_is_not_known_is_missing_only_while_it_could_raise_the_category()
    {
        var unknown = SquamousTumour.Plain.With(tumour => tumour with { Depth = null, DeepestPlane = null, Perineural = null, Bone = null });
        Of(unknown).Missing.ShouldBe([TFact.DepthMm, TFact.DeepestPlane, TFact.Perineural, TFact.Bone]);
        Of(unknown).IsAtLeast().ShouldBeTrue();
        Of(unknown.Sized(40)).Missing.ShouldBe([TFact.Bone]);
        Of(unknown.With(tumour => tumour with { Bone = BoneInvolvement.GrossInvasion })).Missing.ShouldBeEmpty();
        Of(SquamousTumour.Plain).IsAtLeast().ShouldBeFalse();
        Of(SquamousTumour.Plain with { PreOperative = null }).Missing.ShouldBe([TFact.PreOperative]);
        var nerve = SquamousTumour.Plain.Nerve(null, named: null, deep: null);
        Of(nerve).Missing.ShouldBe([TFact.PerineuralCalibre, TFact.PerineuralNamed], "no nerve lies deeper than a tumour that ends in the dermis");
        Of(nerve.With(tumour => tumour with { DeepestPlane = AnatomicalPlane.SubcutaneousFat }))
            .Missing.ShouldBe([TFact.PerineuralCalibre, TFact.PerineuralDepth, TFact.PerineuralNamed]);
    }

    // The manual has erosion, gross invasion and skull base; at a deepest plane of bone the least of them is sure.
    [Theory]
    [InlineData(AnatomicalPlane.Periosteum, false)]
    [InlineData(AnatomicalPlane.Bone, true)]
    public void Bone_as_the_deepest_plane_is_an_erosion_at_the_least_and_periosteum_is_not_bone(AnatomicalPlane plane, bool counts)
    {
        var category = Of(SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = plane, Bone = null }));
        category.T.ShouldBe("T3");
        category.Factors.Contains(TFactor.MinorBoneErosion).ShouldBe(counts);
        category.Missing.ShouldBe([TFact.Bone]);
        Of(SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = AnatomicalPlane.Muscle, Bone = null })).Missing.ShouldBeEmpty();
    }

    [Fact]
    public void A_nerve_of_unknown_calibre_does_not_raise_it_and_is_said_to_be_missing()
    {
        var category = Of(SquamousTumour.Plain.Nerve(null));
        category.T.ShouldBe("T1");
        category.Missing.ShouldBe([TFact.PerineuralCalibre]);
    }

    [Theory]
    [InlineData(BoneInvolvement.MinorErosion, "T3", TFactor.MinorBoneErosion)]
    [InlineData(BoneInvolvement.GrossInvasion, "T4a", TFactor.GrossBoneInvasion)]
    [InlineData(BoneInvolvement.SkullBase, "T4b", TFactor.SkullBaseInvasion)]
    public void Bone_gives_T3_T4a_and_T4b(BoneInvolvement bone, string t, TFactor factor)
    {
        var category = Of(SquamousTumour.Plain.With(tumour => tumour with { Bone = bone }));
        category.T.ShouldBe(t);
        category.Factors.ShouldBe([factor]);
    }

    // Note a of the review: differentiation is no criterion here (from memory), though it is one of Brigham and Women's.
    [Fact]
    public void Poor_differentiation_does_not_raise_it() =>
        Of(SquamousTumour.Plain.With(tumour => tumour with { Differentiation = Differentiation.Poor })).T.ShouldBe("T1");

    [Theory]
    [InlineData("C44.0", true)]
    [InlineData("C44.1", false)]
    [InlineData("C44.2", true)]
    [InlineData("C44.3", true)]
    [InlineData("C44.4", true)]
    [InlineData("C44.5", false)]
    [InlineData("C44.7", false)]
    [InlineData("C44.9", false)]
    [InlineData("C00.1", true)]
    [InlineData("C60.9", false)]
    public void It_applies_to_the_head_and_neck_without_the_eyelid(string site, bool applies)
    {
        var category = Of(SquamousTumour.Plain.At(site));
        category.Applies.ShouldBe(applies);
        category.T.ShouldBe(applies ? "T1" : null);
    }

    [Theory]
    [InlineData("8090/3", true, "T1")] // basal cell
    [InlineData("8560/3", true, "T1")] // adenosquamous
    [InlineData("8407/3", true, "T1")] // microcystic adnexal
    [InlineData("8410/3", true, "T1")] // sebaceous
    [InlineData("8247/3", false, null)] // Merkel cell
    [InlineData("8742/2", false, null)] // lentigo maligna
    [InlineData("8720/3", false, null)] // melanoma
    [InlineData("8832/3", false, null)] // dermatofibrosarcoma
    [InlineData("8070/2", true, "Tis")]
    [InlineData("8071/3", true, "T1")]
    [InlineData("8060/0", false, null)]
    public void It_applies_to_carcinoma_but_Merkel_s(string morphology, bool applies, string? t)
    {
        var category = Of(SquamousTumour.Plain.With(tumour => tumour with { Morphology = morphology }));
        (category.Applies, category.T).ShouldBe((applies, t));
    }

    [Fact]
    public void Without_a_size_nothing_below_T3_is_claimed()
    {
        Of(SquamousTumour.Plain with { PreOperative = null }).T.ShouldBe("TX");
        Of(SquamousTumour.Plain.Nerve(0.2m) with { PreOperative = null }).T.ShouldBe("T3");
    }

    private static TCategory Of(CaseFacts facts) => Ajcc8.Classify(facts, SizeBoundary.BelongsAbove);
}
