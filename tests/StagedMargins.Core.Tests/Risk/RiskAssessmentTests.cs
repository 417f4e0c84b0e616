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
        prompts.Select(prompt => prompt.Code).ShouldBe(
            [RiskPromptCode.ConsiderRadiationOpinion, RiskPromptCode.AvoidRadiation, RiskPromptCode.CurettageUnsuitable, RiskPromptCode.ConsiderNodalImaging]);
        prompts.ShouldAllBe(prompt => prompt.InWords().EndsWith("the surgeon decides.", StringComparison.Ordinal));
    }

    [Fact]
    public void An_opinion_on_radiation_names_radiation_that_was_given_before()
    {
        RiskPrompt Opinion(bool? irradiated) => RiskAssessment.Of(SquamousTumour.Plain.Nerve(null) with { PriorRadiation = irradiated }, SizeBoundary.BelongsAbove).Prompts.Single();
        Opinion(true).InWords().ShouldContain("prior radiation");
        Opinion(false).InWords().ShouldNotContain("prior radiation");
        Prompts(SquamousTumour.Plain with { PriorRadiation = true }).ShouldBeEmpty();
    }

    // Common practice, no source.
    [Theory]
    [InlineData(20, Differentiation.Well, false)]
    [InlineData(20, Differentiation.Poor, true)]
    public void Brigham_and_Women_s_T2b_prompts_imaging_of_the_nodes_and_says_that_it_is_common_practice(int mm, Differentiation grade, bool prompts)
    {
        var risk = RiskAssessment.Of(SquamousTumour.Plain.Sized(mm).With(tumour => tumour with { Differentiation = grade }), SizeBoundary.BelongsAbove);
        risk.Prompts.Any(prompt => prompt.Code == RiskPromptCode.ConsiderNodalImaging).ShouldBe(prompts);
        risk.Prompts.ShouldAllBe(prompt => prompt.InWords().Contains("common practice", StringComparison.Ordinal));
    }

    [Fact]
    public void Curettage_is_a_question_before_the_first_layer_only()
    {
        var facts = SquamousTumour.Plain.With(tumour => tumour with { DeepestPlane = AnatomicalPlane.SubcutaneousFat });
        var surgicalCase = Some.Case();
        surgicalCase.CorrectFacts(facts, "report", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(1));
        RiskAssessment.Of(surgicalCase.Case, SizeBoundary.BelongsAbove).Prompts.Single().Code.ShouldBe(RiskPromptCode.CurettageUnsuitable);
        surgicalCase.Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));
        RiskAssessment.Of(surgicalCase.Case, SizeBoundary.BelongsAbove).Prompts.ShouldBeEmpty();
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
