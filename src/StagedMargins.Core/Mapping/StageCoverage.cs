namespace StagedMargins.Core.Mapping;

/// <summary>
/// What one stage says about one margin, by the readings that count now. Every piece of its layer is looked at by itself: what no
/// block of its own piece shows is not seen, however clear the piece beside or under it is.
/// </summary>
/// <param name="Taken">What its pieces renew.</param>
/// <param name="Unmapped">What a piece exposes and none of that piece's blocks covers.</param>
/// <param name="Unseen">What a piece exposes and no adequate reading of its blocks has seen, unmapped tissue included.</param>
/// <param name="Positive">Where tumour or perineural invasion was found.</param>
/// <param name="Inflammation">Where inflammation was found.</param>
public readonly record struct StageCoverage(
    MarginRegion Taken,
    MarginRegion Unmapped,
    MarginRegion Unseen,
    MarginRegion Positive,
    MarginRegion Inflammation)
{
    /// <summary>Reads a stage, for both margins at once: what a piece's blocks cover is the same for either.</summary>
    public static (StageCoverage Peripheral, StageCoverage Deep) Of(Stage stage)
    {
        var (edge, floor) = (default(Builder), default(Builder));
        AddFindings(stage, ref edge, ref floor);
        for (var i = 0; i < stage.Pieces.Count; i++)
        {
            var (read, unread) = (default(MarginRegion.Builder), default(MarginRegion.Builder));
            AddBlocks(stage, i + 1, ref read, ref unread);
            var (readRegion, unreadRegion) = (read.Build(), unread.Build());
            edge.Add(stage.Pieces[i], Margin.Peripheral, readRegion, unreadRegion);
            floor.Add(stage.Pieces[i], Margin.Deep, readRegion, unreadRegion);
        }

        return (edge.Build(), floor.Build());
    }

    // What the blocks of a piece cover: those with an adequate reading, and those without. Where both do, it is not seen.
    private static void AddBlocks(Stage stage, int pieceNumber, ref MarginRegion.Builder read, ref MarginRegion.Builder unread)
    {
        foreach (var block in stage.BlockSpan)
        {
            if (stage.PieceNumberOf(block) != pieceNumber)
            {
                continue;
            }

            if (block.IsAdequate)
            {
                read.Add(block.Arc, block.Centre);
            }
            else
            {
                unread.Add(block.Arc, block.Centre);
            }
        }
    }

    private static void AddFindings(Stage stage, ref Builder edge, ref Builder floor)
    {
        foreach (var block in stage.BlockSpan)
        {
            if (block.CountingReading is not { Findings: { Count: > 0 } findings })
            {
                continue;
            }

            for (var i = 0; i < findings.Count; i++)
            {
                var finding = findings[i];
                if (finding.Margin == Margin.Peripheral)
                {
                    edge.Add(finding);
                }
                else
                {
                    floor.Add(finding);
                }
            }
        }
    }

    // What a stage says about one margin, gathered in place: a copy for each piece and finding would cost more than the rules.
    private struct Builder
    {
        private MarginRegion taken;
        private MarginRegion unmapped;
        private MarginRegion unseen;
        private MarginRegion.Builder positive;
        private MarginRegion.Builder inflammation;

        internal void Add(Piece piece, Margin margin, in MarginRegion read, in MarginRegion unread)
        {
            var exposed = piece.Exposes(margin);
            taken = taken.Union(piece.Renews(margin));
            unmapped = unmapped.Union(exposed.Except(read).Except(unread));
            unseen = unseen.Union(exposed.Except(read.Except(unread)));
        }

        internal void Add(Finding finding)
        {
            if (finding.IsPositive())
            {
                positive.Add(finding.Arc, finding.Centre);
            }
            else if (finding.Kind == FindingKind.Inflammation)
            {
                inflammation.Add(finding.Arc, finding.Centre);
            }
        }

        internal readonly StageCoverage Build() => new(taken, unmapped, unseen, positive.Build(), inflammation.Build());
    }
}
