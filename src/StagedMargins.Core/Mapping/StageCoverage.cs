namespace StagedMargins.Core.Mapping;

/// <summary>
/// What one stage says about one margin, by the readings that count now. Every piece of its layer is looked at by itself: what no
/// block of its own piece shows is not seen, however clear the piece beside or under it is.
/// </summary>
/// <param name="Taken">What its pieces renew.</param>
/// <param name="Unmapped">What a piece exposes and none of that piece's blocks covers.</param>
/// <param name="Unseen">What a piece exposes and no adequate reading of its blocks has seen, unmapped tissue included; and what a reading left undecided or evidence disputes.</param>
/// <param name="Positive">Where tumour or perineural invasion was found.</param>
/// <param name="Inflammation">Where inflammation was found.</param>
/// <param name="Exhausted">What readings leave undecided, of which no more tissue is left.</param>
public readonly record struct StageCoverage(
    MarginRegion Taken,
    MarginRegion Unmapped,
    MarginRegion Unseen,
    MarginRegion Positive,
    MarginRegion Inflammation,
    MarginRegion Exhausted)
{
    /// <summary>Reads a stage, for both margins.</summary>
    public static (StageCoverage Peripheral, StageCoverage Deep) Of(Stage stage) => (Of(stage, Margin.Peripheral), Of(stage, Margin.Deep));

    private static StageCoverage Of(Stage stage, Margin margin)
    {
        var builder = default(Builder);
        for (var i = 0; i < stage.Pieces.Count; i++)
        {
            var seen = default(PieceBuilder);
            foreach (var block in stage.BlockSpan)
            {
                if (block.PieceNumber == i + 1 && block.Shows.Has(margin) && !stage.IsReplaced(block))
                {
                    seen.Add(stage, block, margin);
                }
            }

            builder.Add(stage.Pieces[i], margin, seen);
        }

        foreach (var block in stage.BlockSpan)
        {
            builder.Add(block, margin);
        }

        return builder.Build();
    }

    // What the blocks of one piece show of a margin. Where several do, positive wins, and unread and undecided win over clear.
    private struct PieceBuilder
    {
        private MarginRegion.Builder read;
        private MarginRegion.Builder unread;
        private MarginRegion.Builder undecided;
        private MarginRegion disputed;
        private MarginRegion exhausted;

        internal void Add(Stage stage, Block block, Margin margin)
        {
            var counting = block.CountingReading;
            if (counting is { IsAdequate: true })
            {
                read.Add(block.Arc, block.Centre);
            }
            else
            {
                unread.Add(block.Arc, block.Centre);
            }

            var left = default(MarginRegion.Builder);
            foreach (var finding in counting?.Findings ?? [])
            {
                if (finding.Margin == margin && finding.IsUndecided())
                {
                    undecided.Add(finding.Arc, finding.Centre);
                    left.Add(finding.Arc, finding.Centre);
                }
            }

            if (counting is { NoMoreTissue: true })
            {
                exhausted = exhausted.Union(counting.Outcome == ReadingOutcome.Unreadable ? stage.Covered(block, margin) : left.Build());
            }

            foreach (var evidence in block.Evidence)
            {
                disputed = disputed.Union(evidence.Disputes(stage, block, margin));
            }
        }

        internal readonly (MarginRegion Unmapped, MarginRegion Unseen, MarginRegion Exhausted) Of(in MarginRegion exposed)
        {
            var (seen, notRead) = (read.Build(), unread.Build());
            return (
                exposed.Except(seen).Except(notRead),
                exposed.Except(seen.Except(notRead)).Union(undecided.Build()).Union(disputed),
                exhausted);
        }
    }

    // What a stage says about one margin, gathered in place: a copy for each piece and finding would cost more than the rules.
    private struct Builder
    {
        private MarginRegion taken;
        private MarginRegion unmapped;
        private MarginRegion unseen;
        private MarginRegion exhausted;
        private MarginRegion.Builder positive;
        private MarginRegion.Builder inflammation;

        internal void Add(Piece piece, Margin margin, in PieceBuilder seen)
        {
            var of = seen.Of(piece.Exposes(margin));
            taken = taken.Union(piece.Renews(margin));
            (unmapped, unseen, exhausted) = (unmapped.Union(of.Unmapped), unseen.Union(of.Unseen), exhausted.Union(of.Exhausted));
        }

        // Positive places of a block that was embedded again stand until they are taken or amended.
        internal void Add(Block block, Margin margin)
        {
            foreach (var finding in block.CountingReading?.Findings ?? [])
            {
                if (finding.Margin != margin)
                {
                    continue;
                }

                if (finding.IsPositive())
                {
                    positive.Add(finding.Arc, finding.Centre);
                }
                else if (finding.Kind == FindingKind.Inflammation)
                {
                    inflammation.Add(finding.Arc, finding.Centre);
                }
            }
        }

        internal readonly StageCoverage Build() => new(taken, unmapped, unseen, positive.Build(), inflammation.Build(), exhausted);
    }
}
