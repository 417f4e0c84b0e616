using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Intake;

public sealed class SiteConfirmationTests
{
    private static readonly Piece Whole = Some.Whole();
    private static readonly BlockEntry Block = Some.Block("A", "12:00-12:00", centre: true);

    [Fact]
    public void Two_different_people_confirm_a_site() => Stage(Some.Case(confirmed: false).Confirm(Some.Surgeon).Confirm(Some.Histotech)).Alerts.ShouldBeEmpty();

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A_first_layer_with_fewer_than_two_confirmations_is_recorded_with_a_loud_alert(int confirmations)
    {
        var stage = Stage(confirmations == 0 ? Some.Case(confirmed: false) : Some.Case(confirmed: false).Confirm(Some.Surgeon));
        stage.Alerts.Single().Code.ShouldBe(AlertCode.SiteNotConfirmed);
        stage.Alerts.Single().Message().ShouldContain("No reason was given");
    }

    [Fact]
    public void The_reason_is_kept_with_the_alert_and_a_confirmed_site_needs_none()
    {
        var layer = new Layer(Some.At(10), [Whole], [Block], ReasonForUnconfirmedSite: "second person called away");
        var surgicalCase = Some.Case(confirmed: false);
        surgicalCase.Case.Preview(layer, Some.Overlap, Some.At(10)).Alerts.Single().Reason.ShouldBe("second person called away");
        surgicalCase.RecordLayer(layer, Some.Overlap, Some.Surgeon, Some.At(11)).Alerts.Single().Reason.ShouldBe("second person called away");
        Some.Case().RecordLayer(layer, Some.Overlap, Some.Surgeon, Some.At(11)).Alerts.ShouldBeEmpty();
    }

    [Fact]
    public void The_second_stage_does_not_say_it_again()
    {
        var surgicalCase = Some.Case(confirmed: false).Take(Whole, Block).Read(1, "A", Some.TumourAt("01:00-02:00"));
        surgicalCase.Take(Some.Rim("12:45-02:15"), Some.Block("A", "12:45-02:15")).Case.Stages[1].Alerts.ShouldBeEmpty();
    }

    [Fact]
    public void One_person_confirms_once()
    {
        var surgicalCase = Some.Case(confirmed: false).Confirm(Some.Surgeon);
        Should.Throw<RuleViolationException>(() => surgicalCase.Confirm(Some.Surgeon)).Rule.ShouldBe("siteConfirmedByYou");
        surgicalCase.Case.IsSiteConfirmed().ShouldBeFalse();
    }

    [Fact]
    public void A_corrected_site_is_to_be_confirmed_anew_by_both()
    {
        var surgicalCase = Some.Case();
        surgicalCase.Correct(surgicalCase.Case.Facts with { Site = surgicalCase.Case.Facts.Site with { Side = BodySide.Right } });
        surgicalCase.Case.IsSiteConfirmed().ShouldBeFalse();
        surgicalCase.Confirm(Some.Surgeon).Case.IsSiteConfirmed().ShouldBeFalse();
        surgicalCase.Confirm(Some.Histotech).Case.IsSiteConfirmed().ShouldBeTrue();
    }

    [Fact]
    public void Another_correction_leaves_the_confirmations_as_they_are()
    {
        var surgicalCase = Some.Case();
        surgicalCase.Correct(surgicalCase.Case.Facts with { Immunosuppressed = true });
        surgicalCase.Case.IsSiteConfirmed().ShouldBeTrue();
    }

    [Fact]
    public void What_was_missed_before_the_first_layer_can_be_done_after_it_and_the_alert_stays_as_it_was_said()
    {
        var late = Some.Case(confirmed: false).Take(Whole, Block).Confirm(Some.Surgeon).Confirm(Some.Histotech);
        late.Case.IsSiteConfirmed().ShouldBeTrue();
        late.Case.Stages[0].Alerts[0].Code.ShouldBe(AlertCode.SiteNotConfirmed);
    }

    [Fact]
    public void A_correction_needs_its_reason_keeps_the_facts_before_it_and_is_assessed()
    {
        var surgicalCase = Some.Case();
        Refusal.OfEntry("reason", () => surgicalCase.CorrectFacts(surgicalCase.Case.Facts, " ", SizeBoundary.BelongsAbove, Some.Surgeon, Some.At(5)));
        surgicalCase.Correct(SquamousTumour(surgicalCase.Case.Facts));
        surgicalCase.Case.Facts.Tumour.Morphology.ShouldBe("8070/3");
        surgicalCase.Case.FactsCorrections.Single().Reason.ShouldBe("report came");
        surgicalCase.Case.Assessments[^1].Assessment.Ajcc8.Applies.ShouldBeTrue();
    }

    [Fact]
    public void A_site_corrected_after_two_people_confirmed_it_is_said_until_it_is_confirmed_again()
    {
        var surgicalCase = Some.Case();
        surgicalCase.Case.IsSiteChangedSinceConfirmed().ShouldBeFalse();
        surgicalCase.Correct(surgicalCase.Case.Facts with { WeightGrams = 70_000 }).Case.IsSiteChangedSinceConfirmed().ShouldBeFalse();
        surgicalCase.Correct(surgicalCase.Case.Facts with { Site = surgicalCase.Case.Facts.Site with { Side = BodySide.Midline } }).Case.IsSiteChangedSinceConfirmed().ShouldBeTrue();
        surgicalCase.Confirm(Some.Surgeon).Case.IsSiteChangedSinceConfirmed().ShouldBeTrue();
        surgicalCase.Confirm(Some.Histotech).Case.IsSiteChangedSinceConfirmed().ShouldBeFalse();
        Some.Case(confirmed: false).Case.IsSiteChangedSinceConfirmed().ShouldBeFalse();
    }

    private static CaseFacts SquamousTumour(CaseFacts facts) => facts with { Tumour = facts.Tumour with { Morphology = "8070/3" } };

    private static Stage Stage(CaseLog surgicalCase) => surgicalCase.Take(Whole, Block).Case.Stages[0];
}
