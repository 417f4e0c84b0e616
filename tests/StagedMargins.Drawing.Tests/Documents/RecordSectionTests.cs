using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Documents;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;
using UglyToad.PdfPig;

namespace StagedMargins.Drawing.Tests.Documents;

/// <summary>What was done around the loop, on paper: read back by an open PDF library (PdfPig).</summary>
public sealed class RecordSectionTests
{
    private static readonly RecordPrintout Full = Print(FullRecord.Of().Case);
    private static readonly IReadOnlyList<DocumentPage> Pages = Paged.Record(Full, Paper.A4);
    private static readonly string All = Words(Full);

    [Fact]
    public void A_correction_of_the_facts_is_printed_with_what_stood_there_before()
    {
        All.ShouldContain("Facts corrected 2026-03-03 08:55 (UTC−05:00) by Dr Wren Because: measured again");
        All.ShouldContain("Site left, alar crease (C44.3) left, alar crease, upper part (C44.3)");
        All.ShouldContain("Weight not entered 71.5 kg");
        All.ShouldNotContain("Recurrent no no");
    }

    [Fact]
    public void A_confirmation_of_another_site_is_struck_and_two_of_this_site_count()
    {
        All.ShouldContain("Two people confirmed the site before the first layer.");
        All.ShouldContain("The site has been corrected since; this confirmation no longer counts.");
        Pages.Struck().ShouldContain("mark seen by both");
        Pages.Struck().ShouldNotContain("with a mirror");
    }

    [Fact]
    public void A_site_that_was_not_confirmed_is_said_in_a_frame()
    {
        var print = Print(SampleMaps.OnePositive().Case);
        Words(print).ShouldContain("Site not confirmed: this first layer was recorded before two people confirmed the site.");
        Paged.Record(print, Paper.A4).Framed().ShouldContain(words => words.StartsWith("Site not confirmed", StringComparison.Ordinal));
        Pages.Framed().ShouldNotContain(words => words.StartsWith("Site not confirmed", StringComparison.Ordinal));
    }

    [Fact]
    public void Risk_is_printed_now_and_as_it_was_kept_with_factors_and_rules()
    {
        // 21 mm, of unknown depth and planes: AJCC 8 T2, Brigham and Women's T2a by one factor (the sources stand with the rules).
        Pages.ByColumns().ShouldContain("T2: diameter of 2 cm or more. Not entered, may raise it");
        Pages.ByColumns().ShouldContain("T2a: diameter of 2 cm or more. Not entered, may raise it");
        Pages.ByColumns().ShouldContain("TX. Not entered, may raise it: lesion size before surgery");
        Pages.ByColumns().ShouldContain($"{RiskAssessment.CurrentRules}; 2 cm is T2, 4 cm is T3");
    }

    [Fact]
    public void The_label_maximum_that_was_reached_is_said_in_a_frame_and_a_void_dose_is_struck()
    {
        // By hand: 1 % × 30 mL = 300 mg and 2 % × 10 mL = 200 mg of 500 mg (7 mg/kg × 71.5 kg = 500.5, not over 500); 0.25 % × 10 mL
        // = 25 mg of 175 mg. Shares 1 + 0.142857 = 114.3 %.
        Pages.Framed().ShouldContain(words => words.StartsWith("Label maximum reached: 525 mg (7.34 mg/kg), 114.3 %", StringComparison.Ordinal));
        Pages.Struck().ShouldContain("100 mL");
        Pages.Struck().ShouldNotContain("30 mL");
        All.ShouldContain("Reason: 10 mL were given");
    }

    [Fact]
    public void Times_are_printed_with_minutes_and_a_corrected_one_is_struck()
    {
        Pages.ByColumns().ShouldContain("2026-03-03 09:16 (UTC−05:00), +6 min");
        Pages.ByColumns().ShouldContain("2026-03-03 09:44 (UTC−05:00), +28 min");
        Pages.Struck().ShouldContain("2026-03-03 09:19 (UTC−05:00)");
    }

    [Fact]
    public void A_permanent_section_that_differs_is_framed_and_its_first_result_struck()
    {
        Pages.Framed().ShouldContain(words => words.StartsWith("Stage 1, block A: the permanent section differs from the reading that counts.", StringComparison.Ordinal));
        Pages.Take(1).ToList().Framed().ShouldContain(words => words.StartsWith("A permanent section differs from the reading that counts", StringComparison.Ordinal));
        All.ShouldContain("AWAITED");
        Pages.Struck().ShouldContain(words => words.StartsWith("clear, reported 2026-03-05 09:10", StringComparison.Ordinal));
    }

    [Fact]
    public void A_second_read_that_is_in_is_printed_and_a_blind_one_is_not()
    {
        Pages.ByColumns().ShouldContain("few cells");
        Pages.ByColumns().ShouldContain("clear; THE TWO READERS DO NOT AGREE; LOOK AT THE SLIDE TOGETHER");
        All.ShouldContain("1 still awaited: do not show this printout to the second reader.");
        All.Split("asked by Dr Wren").Length.ShouldBe(2);
        All.ShouldNotContain("2, A");
    }

    [Fact]
    public void Repairs_and_visits_stay_when_they_are_corrected()
    {
        Pages.Struck().ShouldContain("flap");
        Pages.Struck().ShouldContain("RECURRENCE");
        Pages.ByColumns().ShouldContain("Replaces visit 1. Reason: entered in the wrong case");
        Pages.ByColumns().ShouldContain("Correction. Reason: a graft was needed after all");
    }

    [Fact]
    public void Every_block_of_a_stage_is_printed_once()
    {
        var words = Paged.Record(Print(SampleMaps.LeftBehind().Case), Paper.A4).SelectMany(page => page.Texts).Select(text => text.Text).ToList();
        words.Count(text => text.StartsWith("12:00–6:00", StringComparison.Ordinal)).ShouldBe(1);
        Paged.Record(Print(SampleMaps.LeftBehind().Case), Paper.A4).SelectMany(page => page.Maps).ShouldAllBe(map => !map.Scene.WithRole(SceneRole.BlockTable).Any());
    }

    [Theory]
    [InlineData("a4")]
    [InlineData("letter")]
    public void A_stage_of_two_blocks_stands_on_one_page(string paper)
    {
        var print = Print(SampleMaps.LeftBehind().Case) with { NameOf = _ => "surgeon.wren@harbour-lane.example" };
        var pages = Paged.Record(print, paper == "a4" ? Paper.A4 : Paper.Letter);
        var stage = pages.Single(page => page.Texts.Any(text => text.Text == "Stage 1 of 2"));
        stage.Maps.Count.ShouldBe(1);
        stage.Texts.ShouldContain(text => text.Text.StartsWith("6:00–12:00", StringComparison.Ordinal));
        pages[pages.ToList().IndexOf(stage) + 1].Texts.ShouldContain(text => text.Text == "Stage 2 of 2");
    }

    private static RecordPrintout Print(SurgicalCase surgicalCase) => new(
        surgicalCase, Some.Overlap, SizeBoundary.BelongsAbove, "Harbour Lane Skin Clinic", id => id == Some.Surgeon ? "Dr Wren" : id == Some.Histotech ? "T Alder" : "Dr Finch", 7, null, Some.At(300));

    private static string Words(RecordPrintout print)
    {
        using var document = PdfDocument.Open(Paged.RecordPdf(print, Paper.A4));
        return string.Join(' ', document.GetPages().SelectMany(page => page.GetWords()).Select(word => word.Text));
    }
}
