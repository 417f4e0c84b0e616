using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

/// <summary>A block as it might be cut: nothing is recorded by it.</summary>
/// <param name="Label">Its label, from A.</param>
/// <param name="Arc">The clock arc it covers.</param>
/// <param name="FromInk">Ink where its arc begins.</param>
/// <param name="ToInk">Ink where its arc ends.</param>
public sealed record PlannedBlock(string Label, ClockArc Arc, string FromInk, string ToInk);

/// <summary>
/// Cuts an arc into blocks as equal as whole minutes allow, with inks by which neighbours share the colour of the cut between them
/// (common practice, no source). A suggestion for whoever cuts.
/// </summary>
public static class SuggestedBlocks
{
    private const int Letters = 26;
    private const string Third = "green";
    private static readonly string[] Inks = ["blue", "red"];

    /// <summary>The blocks of an arc, clockwise.</summary>
    /// <param name="arc">The arc.</param>
    /// <param name="count">How many, at least 1; no more than a layer may have, nor than the arc has minutes.</param>
    /// <exception cref="InvalidEntryException">Too few or too many.</exception>
    public static IReadOnlyList<PlannedBlock> Cut(ClockArc arc, int count)
    {
        var most = Math.Min(RecordLimits.Blocks, arc.Minutes);
        if (count < 1 || count > most)
        {
            throw new InvalidEntryException("count", $"Between 1 and {most} blocks can be cut from this arc.");
        }

        var isRing = arc.IsWhole && count > 1;
        return [.. Enumerable.Range(0, count).Select(i => new PlannedBlock(
            LabelOf(i), new ClockArc(At(arc, i, count), At(arc, i + 1, count)), InkAt(i, count, isRing), InkAt(i + 1, count, isRing)))];
    }

    /// <summary>The label of a block by its place, from 0: A to Z, then AA.</summary>
    public static string LabelOf(int place) => place < Letters ? $"{(char)('A' + place)}" : $"{LabelOf((place / Letters) - 1)}{(char)('A' + (place % Letters))}";

    private static ClockPosition At(ClockArc arc, int cut, int count) => arc.From.Plus(arc.Minutes * cut / count);

    // Around a whole circle the last cut is the first again, so an odd number of blocks needs a third colour.
    private static string InkAt(int cut, int count, bool isRing) =>
        isRing && cut == count ? Inks[0]
        : isRing && cut == count - 1 && count % 2 == 1 ? Third
        : Inks[cut % Inks.Length];
}
