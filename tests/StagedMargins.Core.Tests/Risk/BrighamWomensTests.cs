using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Risk;

/// <summary>
/// Jambusaria-Pahlajani and others, JAMA Dermatol 2013;149:402–410, doi:10.1001/jamadermatol.2013.2456: four factors; 0 T1, 1 T2a,
/// 2–3 T2b, 4 or bone T3 (read in a table adapted from it and in its abstract).
/// </summary>
public sealed class BrighamWomensTests
{
    public static TheoryData<int> Combinations => [.. Enumerable.Range(0, 16)];

    [Theory]
    [MemberData(nameof(Combinations))]
    public void The_number_of_factors_gives_the_category_whichever_they_are(int bits)
    {
        var facts = SquamousTumour.Plain;
        facts = (bits & 1) == 0 ? facts : facts.Sized(20);
        facts = (bits & 2) == 0 ? facts : facts.With(tumour => tumour with { Differentiation = Differentiation.Poor });
        facts = (bits & 4) == 0 ? facts : facts.Nerve(0.1m);
        facts = (bits & 8) == 0 ? facts : facts.With(tumour => tumour with { DeepestPlane = AnatomicalPlane.Fascia });
        TFactor[] all = [TFactor.TwoCentimetres, TFactor.PoorDifferentiation, TFactor.PerineuralInvasion, TFactor.BeyondSubcutaneousFat];
        var category = BrighamWomens.Classify(facts);
        category.Factors.ShouldBe(all.Where((_, i) => (bits & (1 << i)) != 0));
        category.T.ShouldBe(new[] { "T1", "T2a", "T2b", "T2b", "T3" }[category.Factors.Count]);
        category.Missing.ShouldBeEmpty();
    }

    [Theory]
    [InlineData(BoneInvolvement.MinorErosion)]
    [InlineData(BoneInvolvement.GrossInvasion)]
    [InlineData(BoneInvolvement.SkullBase)]
    public void Bone_alone_gives_T3(BoneInvolvement bone)
    {
        var category = BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { Bone = bone }));
        (category.T, category.Factors.Single()).ShouldBe(("T3", TFactor.BoneInvasion));
    }

    // The 2013 system goes by calibre alone; a named nerve belongs to AJCC 8. Fat itself is not beyond fat.
    [Fact]
    public void A_named_nerve_and_fat_are_no_factors_of_it()
    {
        BrighamWomens.Classify(SquamousTumour.Plain.Nerve(null, named: true)).T.ShouldBe("T1");
        BrighamWomens.Classify(SquamousTumour.Plain.Nerve(0.099m)).T.ShouldBe("T1");
        BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = AnatomicalPlane.SubcutaneousFat })).T.ShouldBe("T1");
        BrighamWomens.Classify(SquamousTumour.Plain.Sized(19.999m)).T.ShouldBe("T1");
    }

    [Fact]
    public void It_applies_off_the_head_and_neck_too_and_to_squamous_tumours_alone()
    {
        BrighamWomens.Classify(SquamousTumour.Plain.At("C44.7")).T.ShouldBe("T1");
        BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { Morphology = "8090/3" })).ShouldBe(TCategory.NotApplicable);
        BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { Morphology = "8070/2" })).T.ShouldBe("T0");
    }

    // "Bone excluded: it upgrades to T3" in the table; periosteum is not bone.
    [Theory]
    [InlineData(AnatomicalPlane.Bone, "T3")]
    [InlineData(AnatomicalPlane.Periosteum, "T2a")]
    public void Bone_as_the_deepest_plane_gives_T3_and_periosteum_is_one_factor(AnatomicalPlane plane, string t) =>
        BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = plane })).T.ShouldBe(t);

    [Fact]
    public void Adenosquamous_carcinoma_is_not_of_the_squamous_group_and_the_vermilion_is_a_site_like_any_other()
    {
        BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { Morphology = "8560/3" })).ShouldBe(TCategory.NotApplicable);
        BrighamWomens.Classify(SquamousTumour.Plain.At("C00.1")).T.ShouldBe("T1");
    }

    [Fact]
    public void What_is_not_known_is_missing_only_while_it_could_raise_the_category()
    {
        var graded = SquamousTumour.Plain.With(tumour => tumour with { Differentiation = null });
        BrighamWomens.Classify(graded).Missing.ShouldBe([TFact.Differentiation]);
        var two = graded.Sized(20).Nerve(0.1m);
        BrighamWomens.Classify(two).T.ShouldBe("T2b");
        BrighamWomens.Classify(two).Missing.ShouldBeEmpty("a third factor leaves it T2b");
        BrighamWomens.Classify(two.With(tumour => tumour with { DeepestPlane = null, Bone = BoneInvolvement.None })).Missing
            .ShouldBe([TFact.Differentiation, TFact.DeepestPlane], "four factors are T3");
        BrighamWomens.Classify(SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = null, Bone = null })).Missing
            .ShouldBe([TFact.DeepestPlane, TFact.Bone]);
    }

    [Fact]
    public void An_unknown_size_leaves_it_open_only_where_it_decides()
    {
        var unknown = SquamousTumour.Plain with { PreOperative = null };
        BrighamWomens.Classify(unknown).T.ShouldBeNull();
        BrighamWomens.Classify(unknown).Applies.ShouldBeTrue();
        BrighamWomens.Classify(unknown).Missing.ShouldBe([TFact.PreOperative]);
        BrighamWomens.Classify(unknown.Nerve(0.1m).With(tumour => tumour with { Differentiation = Differentiation.Poor })).T.ShouldBe("T2b");
    }
}
