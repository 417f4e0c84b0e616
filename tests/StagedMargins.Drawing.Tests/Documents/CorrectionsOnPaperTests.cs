using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Documents;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests.Documents;

/// <summary>What was corrected, withdrawn or taken back stays on paper, struck through, with who, when and why.</summary>
public sealed class CorrectionsOnPaperTests
{
    private static readonly IReadOnlyList<DocumentPage> Pages = Print(CorrectedRecord.Of());
    private static readonly string All = Pages.ByColumns();

    [Fact]
    public void A_correction_of_a_stage_says_what_stands_now_and_for_what()
    {
        All.ShouldContain("Stage 2 corrected on 2026-03-03 10:50 (UTC−05:00) by Dr Wren: rim 7:15–9:15 o'clock, 2 mm wide for rim 1:15–3:00 o'clock, 2 mm wide");
        All.ShouldContain("Reason: the map was upside down");
    }

    [Fact]
    public void A_reading_of_a_corrected_block_is_struck_with_who_when_and_why()
    {
        Pages.Struck().ShouldContain(line => line.StartsWith("Stage 2, block A: clear", StringComparison.Ordinal));
        All.ShouldContain("WITHDRAWN: kept, but no longer counts. By Dr Wren, 2026-03-03 10:50 (UTC−05:00). Reason: the map was upside down");
    }

    [Fact]
    public void A_withdrawn_reading_is_struck_and_the_next_one_stands()
    {
        All.ShouldContain("WITHDRAWN: kept, but no longer counts. By Dr Wren, 2026-03-03 10:55 (UTC−05:00). Reason: read from the wrong slide");
        Pages.Struck().Count(line => line.StartsWith("Stage 1, block A: clear", StringComparison.Ordinal)).ShouldBe(1);
        Pages.SelectMany(page => page.Texts).Count(text => text.Text.StartsWith("Stage 1, block A: clear", StringComparison.Ordinal)).ShouldBe(2);
    }

    [Fact]
    public void A_block_whose_only_reading_was_withdrawn_is_unread()
    {
        var to = SampleMaps.OnePositive();
        to.WithdrawReading(to.Case.Stages[0].Blocks[1].CountingReading!.Id, "another patient's slide", Some.Surgeon, Some.At(60));

        Words(Print(to)).ShouldContain("UNREAD");
        Words(Print(SampleMaps.OnePositive())).ShouldNotContain("UNREAD");
    }

    [Fact]
    public void A_removed_block_is_struck_with_its_place()
    {
        Pages.Struck().ShouldContain(line => line.StartsWith("1:15–2:00", StringComparison.Ordinal));
        All.ShouldContain("REMOVED by a correction of the stage.");
    }

    [Fact]
    public void A_withdrawn_stage_is_struck_and_its_permanent_section_no_longer_awaited()
    {
        All.ShouldContain("Stage 3 was withdrawn on 2026-03-03 11:45 (UTC−05:00) by Dr Wren: it was never taken. Reason: entered for another patient");
        Pages.Struck().ShouldContain("base 7:00–9:00 o'clock");
        Pages.Struck().ShouldContain(line => line.StartsWith("Stage 3, block A: clear", StringComparison.Ordinal));
        All.ShouldContain("no longer awaited; its block or stage was corrected or withdrawn");
        Words(Pages).ShouldNotContain("AWAITED");
    }

    [Fact]
    public void An_end_after_which_the_case_was_opened_again_is_struck()
    {
        Pages.Struck().ShouldContain(line => line.StartsWith("Case ended: stopped, not cleared", StringComparison.Ordinal));
        All.ShouldContain("REOPENED on 2026-03-03 12:10 (UTC−05:00) by Dr Wren. Reason: the patient agreed to a further layer");
        All.ShouldContain("The case is open.");
    }

    [Fact]
    public void A_partial_base_and_a_block_without_more_tissue_are_said_in_words()
    {
        All.ShouldContain("base 7:00–9:30 o'clock, part of the floor only, so the deep margin before it still stands");
        All.ShouldContain("No more tissue to read.");
    }

    [Fact]
    public void Reviews_are_printed_open_and_answered()
    {
        var full = Print(FullRecord.Of()).ByColumns();
        full.ShouldContain("OPEN");
        full.ShouldContain("Call the patient back. asked to come on Friday.");
    }

    [Fact]
    public void Evidence_names_its_places_and_who_reported_it_from_where()
    {
        var full = Print(FullRecord.Of()).ByColumns();
        full.ShouldContain("tumour (tumour at the peripheral margin, 2 to 2:30 o'clock), reported 2026-03-05 09:20 (UTC−05:00), reported by Dr Rook, Quay Pathology");
        full.ShouldContain("tumour (tumour at the peripheral margin, 2 to 2:20 o'clock)");
        Print(FullRecord.Of()).Framed().ShouldContain("Closed as clear; not clear now.");
    }

    private static List<string> Words(IReadOnlyList<DocumentPage> pages) => [.. pages.SelectMany(page => page.Texts).Select(text => text.Text)];

    private static IReadOnlyList<DocumentPage> Print(CaseLog log) => Paged.Record(
        new RecordPrintout(log.Case, Some.Overlap, SizeBoundary.BelongsAbove, "Harbour Lane Skin Clinic", id => id == Some.Surgeon ? "Dr Wren" : "T Alder", 7, null, Some.At(3000)), Paper.A4);
}
