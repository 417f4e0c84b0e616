namespace StagedMargins.Drawing.Face;

/// <summary>Heights of labels that stand below one another.</summary>
internal static class LabelStack
{
    /// <summary>
    /// Puts each label at the height it wants; where labels would touch, they form a block about their common middle, which is
    /// the arrangement with the least sum of squared shifts.
    /// </summary>
    /// <param name="labels">Wanted tops, in order from above, and heights.</param>
    /// <param name="between">Least space between two.</param>
    /// <param name="highest">Where the first may begin.</param>
    /// <param name="lowest">Where the last may end.</param>
    /// <returns>The tops, in order.</returns>
    internal static IReadOnlyList<double> Tops(IReadOnlyList<(double Wanted, double Height)> labels, double between, double highest, double lowest)
    {
        var offsets = new List<double> { 0 };
        foreach (var (_, height) in labels)
        {
            offsets.Add(offsets[^1] + height + between);
        }

        var blocks = new List<(double Sum, int Count)>();
        for (var i = 0; i < labels.Count; i++)
        {
            blocks.Add((labels[i].Wanted - offsets[i], 1));
            while (blocks.Count > 1 && blocks[^2].Sum / blocks[^2].Count > blocks[^1].Sum / blocks[^1].Count)
            {
                blocks[^2] = (blocks[^2].Sum + blocks[^1].Sum, blocks[^2].Count + blocks[^1].Count);
                blocks.RemoveAt(blocks.Count - 1);
            }
        }

        // Every top is a block's level plus its own offset, so the bounds are the same for all levels.
        var last = Math.Max(highest, lowest - offsets[^1] + between);
        var levels = blocks.SelectMany(block => Enumerable.Repeat(Math.Clamp(block.Sum / block.Count, highest, last), block.Count));
        return [.. levels.Select((level, i) => level + offsets[i])];
    }
}
