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
        var (edge, floor) = (Found(stage, Margin.Peripheral), Found(stage, Margin.Deep));
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
        var (read, unread) = (MarginRegion.None, MarginRegion.None);
        for (var i = 0; i < stage.Blocks.Count; i++)
        {
            var block = stage.Blocks[i];
            if (stage.PieceNumberOf(block) != pieceNumber)
            {
                continue;
            }

            if (block.IsAdequate)
            {
                read = read.Union(block.Region());
            }
            else
            {
                unread = unread.Union(block.Region());
            }
        }

        return (read, unread);
    }

    // What was found, before any piece is looked at.
    private static StageCoverage Found(Stage stage, Margin margin)
    {
        var (positive, inflammation) = (MarginRegion.None, MarginRegion.None);
        for (var i = 0; i < stage.Blocks.Count; i++)
        {
            var findings = stage.Blocks[i].CountingReading?.Findings ?? [];
            for (var k = 0; k < findings.Count; k++)
            {
                var finding = findings[k];
                if (finding.Margin != margin)
                {
                    continue;
                }

                if (finding.IsPositive())
                {
                    positive = positive.Union(finding.Region());
                }
                else if (finding.Kind == FindingKind.Inflammation)
                {
                    inflammation = inflammation.Union(finding.Region());
                }
            }
        }

        return default(StageCoverage) with { Positive = positive, Inflammation = inflammation };
    }
}
