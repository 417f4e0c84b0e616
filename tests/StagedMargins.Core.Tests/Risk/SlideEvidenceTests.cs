using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Risk;

/// <summary>What the slides show counts in both categories, beside what intake says. The categories' sources stand beside their own tests.</summary>
public sealed class SlideEvidenceTests
{
    private static readonly CaseFacts Intake = SquamousTumour.Plain.With(tumour => tumour with { Perineural = null, DeepestPlane = AnatomicalPlane.SubcutaneousFat });

    // 0.1 mm: AJNR review, note b, and Jambusaria-Pahlajani and others 2013.
    [Theory]
    [InlineData("0.1", "T3", "T2a")]
    [InlineData("0.099", "T1", "T1")]
    public void A_nerve_seen_and_measured_on_a_slide_counts_from_a_tenth_of_a_millimetre(string calibre, string ajcc8, string brighamWomens)
    {
        var risk = Read(Intake, Some.Whole(), Nerve(Margin.Peripheral, decimal.Parse(calibre, System.Globalization.CultureInfo.InvariantCulture)));
        (risk.Ajcc8.T, risk.BrighamWomens.T).ShouldBe((ajcc8, brighamWomens));
        risk.Conflicts().ShouldBeEmpty("intake did not say");
    }

    [Fact]
    public void A_nerve_seen_without_a_calibre_leaves_it_to_be_measured()
    {
        var risk = Read(Intake, Some.Whole(), Nerve(Margin.Peripheral, null));
        risk.Ajcc8.Missing.ShouldBe([TFact.PerineuralCalibre, TFact.PerineuralDepth, TFact.PerineuralNamed]);
        risk.BrighamWomens.Missing.ShouldBe([TFact.PerineuralCalibre]);
        risk.Prompts.Single().Code.ShouldBe(RiskPromptCode.ConsiderRadiationOpinion);
    }

    [Theory]
    [InlineData(AnatomicalPlane.Dermis, "T1")]
    [InlineData(AnatomicalPlane.SubcutaneousFat, "T3")]
    public void A_nerve_at_a_floor_deeper_than_the_dermis_is_deeper_than_the_dermis(AnatomicalPlane floor, string t) =>
        Read(Intake, Some.Whole(plane: floor), Nerve(Margin.Deep, 0.05m)).Ajcc8.T.ShouldBe(t);

    [Theory]
    [InlineData(AnatomicalPlane.SubcutaneousFat, "T1", "T1")]
    [InlineData(AnatomicalPlane.Fascia, "T3", "T2a")]
    [InlineData(AnatomicalPlane.Periosteum, "T3", "T2a")]
    [InlineData(AnatomicalPlane.Bone, "T3", "T3")]
    public void Tumour_at_a_floor_lies_at_the_plane_of_its_piece(AnatomicalPlane floor, string ajcc8, string brighamWomens)
    {
        var risk = Read(Intake, Some.Whole(plane: floor), Some.TumourAt("01:00-02:00", Margin.Deep));
        (risk.Ajcc8.T, risk.BrighamWomens.T).ShouldBe((ajcc8, brighamWomens));
    }

    [Fact]
    public void A_plane_that_the_knife_reached_without_tumour_says_nothing()
    {
        Read(Intake, Some.Whole(plane: AnatomicalPlane.Bone)).Ajcc8.T.ShouldBe("T1");
        var edge = Read(Intake, Some.Whole(plane: AnatomicalPlane.Bone), Some.TumourAt("01:00-02:00"));
        (edge.Ajcc8.T, edge.Conflicts().Count).ShouldBe(("T1", 0));
        Read(Intake, Some.Whole(plane: AnatomicalPlane.Bone), Some.Found(FindingKind.Inflammation, Margin.Deep, "01:00-02:00")).Ajcc8.T.ShouldBe("T1");
    }

    [Fact]
    public void Where_intake_says_less_both_are_shown_and_the_higher_category_holds()
    {
        var said = Intake.With(tumour => tumour with { Perineural = new Perineural(false, null, null) });
        var risk = Read(said, Some.Whole(plane: AnatomicalPlane.Muscle), Nerve(Margin.Deep, 0.1m));
        risk.Conflicts().Select(conflict => (conflict.Fact, conflict.Intake, conflict.Slides)).ShouldBe(
            [(TFact.Perineural, "no", "yes"), (TFact.DeepestPlane, "subcutaneous fat", "muscle")]);
        risk.BrighamWomens.T.ShouldBe("T2b");
        RiskSentences.Of(risk).ShouldContain("Deepest plane: subcutaneous fat at intake, muscle on the slides. The higher category holds until someone corrects the facts.");
    }

    [Fact]
    public void A_wider_nerve_than_intake_has_and_bone_that_it_rules_out_are_shown_too()
    {
        var risk = Read(Intake.Nerve(0.05m), Some.Whole(plane: AnatomicalPlane.Bone), Nerve(Margin.Deep, 0.2m));
        risk.Conflicts().Select(conflict => conflict.Fact).ShouldBe([TFact.PerineuralCalibre, TFact.PerineuralDepth, TFact.DeepestPlane, TFact.Bone]);
        risk.Ajcc8.Missing.ShouldBe([TFact.Bone], "how far bone is invaded, the slides don't say");
    }

    [Fact]
    public void Slides_that_show_less_than_intake_says_contradict_nothing()
    {
        var said = Intake.Nerve(0.2m, named: true, deep: true).With(tumour => tumour with { DeepestPlane = AnatomicalPlane.Muscle });
        var risk = Read(said, Some.Whole(plane: AnatomicalPlane.Fascia), Nerve(Margin.Deep, 0.1m));
        risk.Conflicts().ShouldBeEmpty();
        risk.BrighamWomens.Factors.ShouldBe([TFactor.PerineuralInvasion, TFactor.BeyondSubcutaneousFat]);
    }

    [Fact]
    public void A_finding_counts_until_its_reading_is_amended()
    {
        var surgicalCase = Case(Intake, Some.Whole(plane: AnatomicalPlane.Muscle), Some.TumourAt("01:00-02:00", Margin.Deep));
        RiskAssessment.Of(surgicalCase.Case, SizeBoundary.BelongsAbove).Ajcc8.T.ShouldBe("T3");
        surgicalCase.Amend(1, "A");
        RiskAssessment.Of(surgicalCase.Case, SizeBoundary.BelongsAbove).Ajcc8.T.ShouldBe("T1");
    }

    [Fact]
    public void Facts_corrected_after_a_reading_are_kept_with_what_the_slides_show()
    {
        var surgicalCase = Case(Intake, Some.Whole(plane: AnatomicalPlane.Muscle), Some.TumourAt("01:00-02:00", Margin.Deep));
        surgicalCase.CorrectFacts(Intake.Sized(10), "measured again", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(90));
        var kept = surgicalCase.Case.Assessments[^1].Assessment;
        (kept.Ajcc8.T, kept.RuleVersion).ShouldBe(("T3", RiskAssessment.CurrentRules));
    }

    private static FindingEntry Nerve(Margin margin, decimal? calibreMm) =>
        Some.Found(FindingKind.PerineuralInvasion, margin, "01:00-02:00") with { Calibre = calibreMm is { } mm ? Some.Mm(mm) : null };

    private static RiskAssessment Read(CaseFacts facts, Piece piece, params FindingEntry[] findings) => RiskAssessment.Of(Case(facts, piece, findings).Case, SizeBoundary.BelongsAbove);

    private static CaseLog Case(CaseFacts facts, Piece piece, params FindingEntry[] findings)
    {
        var surgicalCase = Some.Case();
        surgicalCase.CorrectFacts(facts, "report", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(1));
        return surgicalCase.Take(piece, Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A", findings);
    }
}
