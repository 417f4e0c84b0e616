using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Risk;

/// <summary>When radiation, and when curettage, comes into question is common practice, no source.</summary>
public sealed class RiskAssessmentTests
{
    [Fact]
    public void A_plain_tumour_prompts_nothing() => Prompts(SquamousTumour.Plain).ShouldBeEmpty();

    [Fact]
    public void Nerves_nodes_and_an_unresectable_tumour_each_prompt_an_opinion_on_radiation()
    {
        Prompts(SquamousTumour.Plain.Nerve(null)).ShouldBe([RiskPromptCode.ConsiderRadiationOpinion]);
        Prompts(SquamousTumour.Plain.With(tumour => tumour with { PositiveNodes = true })).ShouldBe([RiskPromptCode.ConsiderRadiationOpinion]);
        Prompts(SquamousTumour.Plain.With(tumour => tumour with { Unresectable = true })).ShouldBe([RiskPromptCode.ConsiderRadiationOpinion]);
    }

    [Fact]
    public void Verrucous_carcinoma_and_the_syndrome_prompt_against_radiation()
    {
        Prompts(SquamousTumour.Plain.With(tumour => tumour with { Morphology = "8051/3" })).ShouldBe([RiskPromptCode.AvoidRadiation]);
        Prompts(Some.Facts("8090/3").With(tumour => tumour with { NevoidBasalCellSyndrome = true })).ShouldBe([RiskPromptCode.AvoidRadiation]);
    }

    [Theory]
    [InlineData(AnatomicalPlane.Dermis, false)]
    [InlineData(AnatomicalPlane.SubcutaneousFat, true)]
    [InlineData(AnatomicalPlane.Bone, true)]
    public void Invasion_into_fat_prompts_against_curettage(AnatomicalPlane plane, bool prompts) =>
        Prompts(SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = plane })).Contains(RiskPromptCode.CurettageUnsuitable).ShouldBe(prompts);

    [Fact]
    public void Every_prompt_leaves_the_decision_to_the_surgeon()
    {
        var all = SquamousTumour.Plain.Nerve(0.1m).With(tumour => tumour with { Morphology = "8051/3", DeepestPlane = AnatomicalPlane.Muscle });
        var prompts = RiskAssessment.Of(all, SizeBoundary.BelongsAbove).Prompts;
        prompts.Count.ShouldBe(3);
        prompts.ShouldAllBe(prompt => prompt.InWords().EndsWith("the surgeon decides.", StringComparison.Ordinal));
    }

    [Fact]
    public void Perineural_invasion_on_a_slide_prompts_until_it_is_amended()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true))
            .Read(1, "A", Some.Found(FindingKind.PerineuralInvasion, Margin.Deep, "01:00-02:00"));
        RiskAssessment.Of(surgicalCase.Case, SizeBoundary.BelongsAbove).Prompts.Single().Code.ShouldBe(RiskPromptCode.ConsiderRadiationOpinion);
        surgicalCase.Amend(1, "A");
        RiskAssessment.Of(surgicalCase.Case, SizeBoundary.BelongsAbove).Prompts.ShouldBeEmpty();
    }

    // Connolly and others, J Am Acad Dermatol 2012;67:531–550 (second-hand): H the mask of the face, genitals, hands, feet; M cheek,
    // forehead, scalp, neck, jawline; L the trunk.
    [Theory]
    [InlineData("C44.0", AreaClass.H)]
    [InlineData("C44.1", AreaClass.H)]
    [InlineData("C44.2", AreaClass.H)]
    [InlineData("C44.4", AreaClass.M)]
    [InlineData("C44.5", AreaClass.L)]
    [InlineData("C51.9", AreaClass.H)]
    [InlineData("C60.9", AreaClass.H)]
    [InlineData("C63.2", AreaClass.H)]
    public void The_area_class_follows_from_the_site(string site, AreaClass area) =>
        RiskAssessment.Of(SquamousTumour.Plain.At(site), SizeBoundary.BelongsAbove).AreaClass.ShouldBe(area);

    [Fact]
    public void What_was_said_of_the_area_goes_before_what_the_site_has()
    {
        RiskAssessment.Of(SquamousTumour.Plain with { AreaClass = AreaClass.M }, SizeBoundary.BelongsAbove).AreaClass.ShouldBe(AreaClass.M);
        RiskAssessment.Of(SquamousTumour.Plain.At("C44.9"), SizeBoundary.BelongsAbove).AreaClass.ShouldBeNull();
    }

    [Fact]
    public void Every_site_and_tumour_offered_is_a_code_that_a_case_takes()
    {
        Sites.All.Select(site => Site.Of(site.Code, null, null).Code).ShouldBeUnique();
        TumourTypes.All.Select(type => Tumour.CheckMorphology(type.Code)).ShouldBeUnique();
    }

    private static RiskPromptCode[] Prompts(CaseFacts facts) => [.. RiskAssessment.Of(facts, SizeBoundary.BelongsAbove).Prompts.Select(prompt => prompt.Code)];
}
