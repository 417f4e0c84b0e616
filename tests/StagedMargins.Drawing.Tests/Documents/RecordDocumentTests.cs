using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Documents;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;
using UglyToad.PdfPig;

namespace StagedMargins.Drawing.Tests.Documents;

/// <summary>
/// The record on paper: complete, within its pages, and read back as words by an open PDF library (PdfPig) that shares no code
/// with the one that writes it.
/// </summary>
public sealed class RecordDocumentTests
{
    private const string Clinic = "Harbour Lane Skin Clinic";

    public static TheoryData<string> Papers => ["a4", "letter"];

    [Theory]
    [MemberData(nameof(Papers))]
    public void No_words_lie_on_other_words_or_on_a_map(string paper)
    {
        foreach (var page in new[] { LongWords(), CorrectedRecord.Of(), FullRecord.Of() }.SelectMany(to => Paged.Record(Print(to), Of(paper))))
        {
            var boxes = page.Texts.Select(text => Inside(text.Box)).ToList();
            for (var i = 0; i < boxes.Count; i++)
            {
                boxes.Skip(i + 1).Any(other => other.Overlaps(boxes[i])).ShouldBeFalse();
                page.Maps.Any(map => Inside(map.Box).Overlaps(boxes[i])).ShouldBeFalse();
            }
        }
    }

    [Fact]
    public void Long_words_are_wrapped_and_none_is_left_out()
    {
        var words = Words(LongWords());
        words.Split("ulcerated").Length.ShouldBe(401);
    }

    [Fact]
    public void Each_page_says_clinic_case_patient_site_twelve_caution_and_its_number()
    {
        var pages = Read(SampleMaps.LeftBehind());
        for (var i = 0; i < pages.Count; i++)
        {
            pages[i].ShouldContain($"{Clinic} – case 2026-0142 – patient {Some.PatientRef}");
            pages[i].ShouldContain("Site: left, alar crease (C44.3)");
            pages[i].ShouldContain("12 = toward the vertex");
            pages[i].ShouldContain("not a diagnosis, and not cleared as a medical device");
            pages[i].ShouldContain("Decisions belong to licensed clinicians");
            pages[i].ShouldContain("Printed 2026-03-03 14:10 (UTC−05:00)");
            pages[i].ShouldContain($"Page {i + 1} of {pages.Count}");
        }
    }

    [Fact]
    public void The_worked_example_is_printed_with_its_figures()
    {
        var words = Words(SampleMaps.LeftBehind());
        words.ShouldContain("When recorded: Tumour left behind");
        Paged.Record(Print(SampleMaps.LeftBehind()), Paper.A4).ByColumns().ShouldContain("tumour at the peripheral margin, 7:30 to 9 o'clock");
        words.ShouldContain("Tumour outstanding 7:30–7:45 o'clock");
        words.ShouldContain("Target of the next layer 7:15–8:00 o'clock");
        words.ShouldContain("State of the margins: Tumour outstanding");
        words.ShouldContain("History intact: 7 entries.");
    }

    [Fact]
    public void An_amended_reading_stays_struck_through_with_who_when_and_why()
    {
        var recall = SampleMaps.Recall();
        var words = Words(recall);
        words.ShouldContain("Recall: what became known after the case ended");
        words.ShouldContain("AMENDED: kept, but no longer counts. By Dr Wren");
        words.ShouldContain("Reason: second look");
        StruckWords(Print(recall)).ShouldContain(line => line.Contains("block B: clear"));
        StruckWords(Print(recall)).ShouldNotContain(line => line.Contains("block A"));
        StruckWords(Print(SampleMaps.LeftBehind())).ShouldBeEmpty();
    }

    [Fact]
    public void A_block_without_a_reading_is_printed_as_not_read()
    {
        var words = Words(Some.Case().Taken([Some.Ellipse()], Some.Blocks(2)).Clear("A"));
        words.ShouldContain("B 6:00–12:00 o'clock, the UNREAD");
        words.ShouldContain("The defect has not been measured.");
    }

    [Fact]
    public void A_reading_without_the_readers_signature_says_so() =>
        Words(SampleMaps.AllKinds()).ShouldContain("NOT SIGNED");

    [Fact]
    public void The_heading_of_the_margins_says_clear_only_where_every_reading_is_signed()
    {
        var to = Some.Case().Taken([Some.Ellipse()], Some.Blocks(2)).Clear("A").ReadBy(Some.Histotech, "B", ReadingOutcome.Clear);
        Words(to).ShouldContain("Margins after 1 stage: clear as marked");
        to.Countersign(to.Case.Stages[0].Blocks[1].CountingReading!.Id, Some.Surgeon, Some.At(60));
        Words(to).ShouldContain("Margins after 1 stage: cleared");
    }

    [Fact]
    public void A_broken_history_is_said_on_the_first_page_and_at_the_end_and_never_called_intact()
    {
        var pages = Read(Print(SampleMaps.Cleared()) with { Fault = "Change 4, readings: It is not as it was written." });
        pages[0].ShouldContain("NOT INTACT: this record has changed since it was written. Change 4, readings");
        pages[^1].ShouldContain("NOT INTACT");
        string.Join(' ', pages).ShouldNotContain("History intact");
    }

    [Fact]
    public void Letters_that_can_not_be_printed_are_said_to_be_missing()
    {
        Words(Some.Case("頭頂の方へ")).ShouldContain("Some letters of this record can't be printed here");
        Words(Some.Case()).ShouldNotContain("Some letters");
    }

    [Fact]
    public void Every_stage_and_the_cumulative_state_has_its_map()
    {
        var pages = Paged.Record(Print(SampleMaps.Cleared()), Paper.A4);
        pages.SelectMany(page => page.Maps).Select(map => map.Scene.Title).ShouldBe(
        [
            "Margin map of case 2026-0142, stage 1, patient view", "Margin map of case 2026-0142, stage 2, patient view",
            "Margin map of case 2026-0142, stage 3, patient view", "Margin map of case 2026-0142, after stage 3, patient view",
        ]);
    }

    [Fact]
    public void Each_map_but_the_last_stage_s_warns_not_to_cut_by_it()
    {
        var words = Words(SampleMaps.Cleared());
        words.Split("Do not cut from this map").Length.ShouldBe(3);
        Words(SampleMaps.OnePositive()).ShouldNotContain("Do not cut from this map");
    }

    [Fact]
    public void The_file_embeds_its_typeface_and_names_no_patient_in_its_title()
    {
        using var document = PdfDocument.Open(Paged.RecordPdf(Print(SampleMaps.LeftBehind()), Paper.A4));
        document.Information.Title.ShouldBe("Record of case 2026-0142");
        document.GetPages().SelectMany(page => page.Letters).ShouldAllBe(letter => letter.FontName!.Contains("Atkinson"));
        document.GetPage(1).Width.ShouldBe(595.28, 0.5);
        document.GetPage(1).Height.ShouldBe(841.89, 0.5);
    }

    [Fact]
    public void The_same_record_printed_at_the_same_time_is_the_same_file() =>
        Paged.RecordPdf(Print(SampleMaps.LeftBehind()), Paper.A4).ShouldBe(Paged.RecordPdf(Print(SampleMaps.LeftBehind()), Paper.A4));

    private static Paper Of(string name) => name == "a4" ? Paper.A4 : Paper.Letter;

    private static RecordPrintout Print(CaseLog surgicalCase) => new(
        surgicalCase.Case, Some.Overlap, SizeBoundary.BelongsAbove, Clinic, id => id == Some.Surgeon ? "Dr Wren" : id == Some.Histotech ? "T Alder" : id == FullRecord.SecondReader ? "Dr Finch" : null, 7, null, Some.At(300));

    // Letters that go below the line may come near the next one.
    private static SceneBox Inside(SceneBox box) => box.Grown(-0.5);

    private static List<string> Read(CaseLog surgicalCase) => Read(Print(surgicalCase));

    private static List<string> Read(RecordPrintout print)
    {
        using var document = PdfDocument.Open(Paged.RecordPdf(print, Paper.A4));
        return [.. document.GetPages().Select(page => string.Join(' ', page.GetWords().Select(word => word.Text)))];
    }

    private static string Words(CaseLog surgicalCase) => string.Join(' ', Read(surgicalCase));

    private static List<string> StruckWords(RecordPrintout print) => Paged.Record(print, Paper.A4).Struck();

    private static CaseLog LongWords()
    {
        var to = Some.Case(string.Join(' ', Enumerable.Repeat("toward the vertex", 11))).Taken([Some.Ellipse()], Some.Blocks(2));
        var note = string.Join(' ', Enumerable.Repeat("ulcerated", 400));
        to.RecordReading(1, "A", new ReadingEntry(ReadingOutcome.Clear, Some.Surgeon, Some.At(5), [], Note: note), Some.Surgeon, Some.At(5));
        return to.Clear("B");
    }
}
