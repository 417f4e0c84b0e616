using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>The blocks of a stage, or the layers of a case, in rows.</summary>
internal static class Tables
{
    private static readonly Column[] BlockColumns =
        [new("Block", 0.11), new("Covers", 0.23), new("First ink", 0.17), new("Second ink", 0.19), new("Reading", 0.3)];

    private static readonly Column[] LayerColumns = [new("Stage", 0.09), new("Taken", 0.3), new("Pieces", 0.61)];

    /// <summary>Draws the stage's blocks.</summary>
    internal static void Blocks(Sheet sheet, Stage stage)
    {
        var rows = stage.Blocks.Select(block => (IReadOnlyList<Cell>)
        [
            new Cell(block.Label),
            new Cell(MapWords.Covered(stage, block)),
            Ink(block.FromInk),
            Ink(block.ToInk),
            new Cell(MapWords.ReadingOf(stage, block)),
        ]);
        Table.Draw(sheet, SceneRole.BlockTable, $"Blocks of stage {stage.Number}", BlockColumns, [.. rows]);
    }

    /// <summary>Draws the layers up to the map's stage.</summary>
    internal static void Layers(Sheet sheet, IReadOnlyList<Stage> stages)
    {
        var rows = stages.Select(stage => (IReadOnlyList<Cell>)
        [
            new Cell($"{stage.Number}"),
            new Cell(stage.TakenAt.InWords()),
            new Cell(MapWords.Of(stage.Pieces)),
        ]);
        Table.Draw(sheet, SceneRole.LayerTable, "Layers", LayerColumns, [.. rows]);
    }

    private static Cell Ink(string? name) => name is null ? new Cell(Terms.None) : new Cell(name, Palette.Ink(name));
}
