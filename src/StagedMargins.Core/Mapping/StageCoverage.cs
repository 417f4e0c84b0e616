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
        var (edge, floor) = Found(stage);
        for (var i = 0; i < stage.Pieces.Count; i++)
        {
            var (read, unread) = Covered(stage, i + 1);
            edge = edge.With(stage.Pieces[i], Margin.Peripheral, read, unread);
            floor = floor.With(stage.Pieces[i], Margin.Deep, read, unread);
        }

        return (edge, floor);
    }

    // A piece more, with what its blocks cover.
    private StageCoverage With(Piece piece, Margin margin, in MarginRegion read, in MarginRegion unread)
    {
        var exposed = piece.Exposes(margin);
        return this with
        {
            Taken = Taken.Union(piece.Renews(margin)),
            Unmapped = Unmapped.Union(exposed.Except(read).Except(unread)),
            Unseen = Unseen.Union(exposed.Except(read.Except(unread))),
        };
    }

    // What the blocks of a piece cover: those with an adequate reading, and those without. Where both do, it is not seen.
    private static (MarginRegion Read, MarginRegion Unread) Covered(Stage stage, int pieceNumber)
    {
        var (read, unread) = (default(MarginRegion.Builder), default(MarginRegion.Builder));
        for (var i = 0; i < stage.Blocks.Count; i++)
        {
            var block = stage.Blocks[i];
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

        return (read.Build(), unread.Build());
    }

    // What was found, before any piece is looked at.
    private static (StageCoverage Peripheral, StageCoverage Deep) Found(Stage stage)
    {
        var (edge, floor) = (default(FindingPlaces), default(FindingPlaces));
        for (var i = 0; i < stage.Blocks.Count; i++)
        {
            if (stage.Blocks[i].CountingReading is not { Findings: { Count: > 0 } findings })
            {
                continue;
            }

            for (var k = 0; k < findings.Count; k++)
            {
                ref var places = ref findings[k].Margin == Margin.Peripheral ? ref edge : ref floor;
                places.Add(findings[k]);
            }
        }

        return (edge.Build(), floor.Build());
    }

    // The places on one margin at which something was found.
    private struct FindingPlaces
    {
        private MarginRegion.Builder positive;
        private MarginRegion.Builder inflammation;

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

        internal readonly StageCoverage Build() => default(StageCoverage) with { Positive = positive.Build(), Inflammation = inflammation.Build() };
    }
}
