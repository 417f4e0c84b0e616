using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Documents;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests.Documents;

/// <summary>A record with as many blocks in a stage as a stage may have: everything stays inside the page, and nothing is left out.</summary>
public sealed class LargeRecordTests
{
    private const int Stages = 4;

    private static readonly SurgicalCase Case = FullRecord.Large(Stages, RecordLimits.Blocks).Case;

    [Theory]
    [InlineData("a4")]
    [InlineData("letter")]
    public void Everything_stays_inside_the_margins_of_its_page(string name)
    {
        var paper = name == "a4" ? Paper.A4 : Paper.Letter;
        foreach (var page in LayOut(paper))
        {
            var inside = new SceneBox(39, 20, paper.Width - 39, paper.Height - 20);
            page.Texts.ShouldAllBe(text => inside.Contains(text.Box));
            page.Maps.ShouldAllBe(map => inside.Contains(map.Box));
            var footer = page.Texts.Single(text => text.Text.StartsWith("A record and a calculator", StringComparison.Ordinal)).Box.Top;
            page.Maps.ShouldAllBe(map => map.Box.Bottom <= footer);
            page.Texts.Where(text => text.Size == 9).ShouldAllBe(text => text.Box.Bottom <= footer);
        }
    }

    [Fact]
    public void Every_block_of_every_stage_has_its_row()
    {
        var texts = LayOut(Paper.A4).SelectMany(page => page.Texts).Where(text => text.Box.Left == 40).Select(text => text.Text).ToList();
        foreach (var label in Case.Stages[0].Blocks.Select(block => block.Label))
        {
            texts.Count(text => text == label).ShouldBe(Stages);
        }
    }

    [Fact]
    public void A_map_of_every_stage_is_as_it_is_alone()
    {
        var maps = LayOut(Paper.A4).SelectMany(page => page.Maps).Select(map => map.Scene).ToList();
        maps.Count.ShouldBe(Stages + 1);
        for (var stage = 1; stage <= Stages; stage++)
        {
            var alone = MapScene.Of(new MapRequest(Case, Some.Overlap, stage, false, false) { InDocument = true });
            MapPicture.ToSvg(maps[stage - 1], 800).ShouldBe(MapPicture.ToSvg(alone, 800));
        }
    }

    [Fact]
    public void A_record_that_nobody_waits_for_any_more_is_not_finished()
    {
        using var gone = new CancellationTokenSource();
        gone.Cancel();
        Should.Throw<OperationCanceledException>(() => RecordDocument.ToPdf(Print(), Paper.A4, gone.Token));
    }

    private static IReadOnlyList<DocumentPage> LayOut(Paper paper) => Paged.Record(Print(), paper);

    private static RecordPrintout Print() => new(
        Case, Some.Overlap, SizeBoundary.BelongsAbove, "Harbour Lane Skin Clinic", _ => "wren@harbour.example", 7, null, Some.At(300));
}
