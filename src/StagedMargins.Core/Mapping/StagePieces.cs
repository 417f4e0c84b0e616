namespace StagedMargins.Core.Mapping;

/// <summary>Which pieces the layer of a stage may have.</summary>
internal static class StagePieces
{
    /// <summary>A copy of the pieces, where the stage may have them.</summary>
    /// <param name="pieces">The pieces of the layer.</param>
    /// <param name="stage">The number of the stage.</param>
    /// <exception cref="InvalidEntryException">It may not.</exception>
    internal static IReadOnlyList<Piece> Checked(IReadOnlyList<Piece> pieces, int stage)
    {
        if (pieces.Count > RecordLimits.Pieces)
        {
            throw new InvalidEntryException("pieces", $"A layer has at most {RecordLimits.Pieces} pieces.");
        }

        var wholes = pieces.Count(piece => piece.Kind == PieceKind.Whole);
        if (stage == 1 && (pieces.Count != 1 || wholes != 1))
        {
            throw new InvalidEntryException("pieces", "Stage 1 must be exactly one whole layer.");
        }

        if (stage > 1 && (pieces.Count == 0 || wholes > 0))
        {
            throw new InvalidEntryException("pieces", "A later stage must be one or more rims or bases; only stage 1 is a whole layer.");
        }

        return [.. pieces];
    }
}
