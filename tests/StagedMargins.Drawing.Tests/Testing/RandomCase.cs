using CsCheck;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>Cases that nobody would think of: any wound, layers, blocks and findings that the rules allow.</summary>
internal static class RandomCase
{
    private static readonly string?[] Inks = ["blue", "red", "green", "yellow", "black", "teal", "an ink with quite a long name", null];

    private static readonly Gen<ClockArc> Arcs =
        Gen.Select(Gen.Int[0, 719], Gen.Int[1, 720], (from, minutes) => ClockArc.Starting(new ClockPosition(from), minutes));

    private static readonly Gen<Piece> LaterPieces = Gen.Select(
        Gen.Int[1, 3].Select(kind => (PieceKind)kind), Arcs, Gen.Bool, Gen.Int[500, 9000], (kind, arc, centre, width) =>
            new Piece(kind, arc, centre && kind != PieceKind.Rim, kind == PieceKind.Base ? null : new Length(width), null, null));

    private static readonly Gen<(decimal Start, decimal End)> Parts =
        Gen.Select(Gen.Int[0, 98], Gen.Int[1, 99], (a, b) => (Math.Min(a, b - 1) / 100m, Math.Max(a + 1, b) / 100m));

    private sealed record Wish((decimal Start, decimal End) Part, bool Centre, int FirstInk, int SecondInk, FindingKind Kind, Margin Margin, int Outcome);

    private static readonly Gen<Wish> Wishes = Gen.Select(
        Parts, Gen.Bool, Gen.Int[0, 7], Gen.Int[0, 7], Gen.Enum<FindingKind>(), Gen.Enum<Margin>(), Gen.Int[0, 3],
        (part, centre, first, second, kind, margin, outcome) => new Wish(part, centre, first, second, kind, margin, outcome));

    internal static Gen<CaseLog> Any { get; } = Gen.Select(
        Gen.Int[3000, 90_000], Gen.Int[3000, 60_000], Gen.Int[0, 719], LaterPieces.Array[1, 3].Array[0, 5], Wishes.Array[0, 14].Array[6], Make);

    private static CaseLog Make(int length, int width, int axis, Piece[][] later, Wish[][] wishes)
    {
        var to = Some.Case();
        var whole = Some.Ellipse(length / 1000m, width / 1000m, new ClockPosition(axis).ToString());
        foreach (var (pieces, wanted) in later.Prepend([whole]).Zip(wishes))
        {
            to.Taken(pieces, [.. wanted.Select((wish, i) => Block(pieces[i % pieces.Length], (i % pieces.Length) + 1, wish, i))], "the patient bled");
            foreach (var (block, wish) in to.Case.Stages[^1].Blocks.Zip(wanted).ToList())
            {
                Read(to, block, wish);
            }
        }

        return to;
    }

    private static BlockEntry Block(Piece piece, int pieceNumber, Wish wish, int i)
    {
        var (first, last) = ((int)(wish.Part.Start * (piece.Arc?.Minutes ?? 720)), (int)Math.Ceiling(wish.Part.End * (piece.Arc?.Minutes ?? 720)));
        var from = piece.Arc?.From ?? ClockPosition.Twelve;
        return new BlockEntry(
            Some.Label(i), ClockArc.Starting(from.Plus(first), Math.Max(1, last - first)),
            wish.Centre && piece.Renews(Margin.Deep).Centre, Inks[wish.FirstInk], Inks[wish.SecondInk], pieceNumber);
    }

    private static void Read(CaseLog to, Block block, Wish wish)
    {
        var shown = to.Case.Stages[^1].Covered(block, wish.Margin);
        if (wish.Outcome == 0 || shown.Arcs.IsEmpty)
        {
            return;
        }

        var finding = new FindingEntry(wish.Kind, wish.Margin, shown.Arcs.First(), null, shown.Centre);
        var isPositive = wish.Kind is FindingKind.Tumour or FindingKind.PerineuralInvasion;
        var outcome = isPositive ? ReadingOutcome.Tumour : wish.Outcome == 1 ? ReadingOutcome.Unreadable : ReadingOutcome.Clear;
        to.ReadBy(wish.Centre ? Some.Surgeon : Some.Histotech, block.Label, outcome, finding);
    }
}
