using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Shape;

/// <summary>
/// The wounds that were worked out last, so that a case that is looked at again and again is cut only once. What it holds depends on
/// nothing but the layers. Safe across threads.
/// </summary>
internal static class DefectMemory
{
    private const int Most = 256;
    private static readonly Lock Gate = new();
    private static readonly Dictionary<Cut, Defect> Kept = [];
    private static readonly Queue<Cut> Oldest = new();

    /// <summary>The wound after a layer: the one kept, or one that is worked out and kept.</summary>
    /// <param name="before">The wound before; null before the first layer.</param>
    /// <param name="stage">The layer.</param>
    /// <param name="work">Works it out.</param>
    internal static Defect After(Defect? before, Stage stage, Func<Defect?, Stage, Defect> work)
    {
        var cut = Cut.Of(before, stage);
        lock (Gate)
        {
            if (Kept.TryGetValue(cut, out var kept))
            {
                return kept;
            }
        }

        var made = work(before, stage);
        lock (Gate)
        {
            if (Kept.TryAdd(cut, made))
            {
                Oldest.Enqueue(cut);
            }

            if (Oldest.Count > Most)
            {
                Kept.Remove(Oldest.Dequeue());
            }

            // Of two that were worked out at once the first is given to both, for what follows is kept by it.
            return Kept.GetValueOrDefault(cut, made);
        }
    }

    /// <summary>What decides a wound: the one before, and all of the layer that reaches its outline or its depth.</summary>
    private sealed record Cut(Defect? Before, Outline? Outline, string Rims, AnatomicalPlane? Plane)
    {
        internal static Cut Of(Defect? before, Stage stage) => new(
            before,
            before is null ? stage.Pieces[0].Outline : null,
            string.Join(';', stage.Pieces.Where(piece => piece.Width is not null).Select(piece => FormattableString.Invariant($"{piece.Arc} {piece.Width!.Micrometres}"))),
            stage.Pieces.Max(piece => piece.Plane));
    }
}
