using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Benchmarks.Margins;

/// <summary>One margin of a case as a plain loop over the minutes of the clock face, whose arcs are worked out beforehand.</summary>
/// <remarks>Of pieces that are the whole circle, and without alerts: less work than the program does.</remarks>
internal sealed class MarginCells(IReadOnlyList<Stage> stages, Margin margin)
{
    private readonly IReadOnlyList<(IReadOnlyList<ClockArc> Read, IReadOnlyList<ClockArc> Positive)> all = [.. stages.Select(stage => (
        (IReadOnlyList<ClockArc>)[.. stage.Blocks.Where(block => block.IsAdequate).Select(block => block.Arc!.Value)],
        (IReadOnlyList<ClockArc>)[.. stage.Blocks.SelectMany(block => block.CountingReading!.Findings).Where(found => found.Margin == margin && found.IsPositive()).Select(found => found.Arc!.Value)]))];

    /// <summary>Minutes that are outstanding after the last stage.</summary>
    internal int Outstanding()
    {
        var (outstanding, unread) = (new bool[ClockPosition.MinutesInCircle], new bool[ClockPosition.MinutesInCircle]);
        foreach (var (read, positive) in all)
        {
            var (seen, found) = (Fill(read), Fill(positive));
            for (var minute = 0; minute < ClockPosition.MinutesInCircle; minute++)
            {
                (outstanding[minute], unread[minute]) = (found[minute], !seen[minute]);
            }
        }

        var total = 0;
        for (var minute = 0; minute < ClockPosition.MinutesInCircle; minute++)
        {
            total += outstanding[minute] && !unread[minute] ? 1 : 0;
        }

        return total;
    }

    private static bool[] Fill(IReadOnlyList<ClockArc> arcs)
    {
        var filled = new bool[ClockPosition.MinutesInCircle];
        foreach (var arc in arcs)
        {
            for (var minute = 0; minute < arc.Minutes; minute++)
            {
                filled[(arc.From.Minutes + minute) % ClockPosition.MinutesInCircle] = true;
            }
        }

        return filled;
    }
}
