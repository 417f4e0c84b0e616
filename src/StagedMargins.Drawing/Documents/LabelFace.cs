using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Documents;

/// <summary>One label: words on the left, the block's QR code on the right.</summary>
internal static class LabelFace
{
    // A reader needs modules of 0.25 mm at least (common practice, no source); 26 mm hold an address of some 300 letters so.
    private const double CodeSide = 26 * Paper.PointsPerMm;
    private const double Padding = 6;
    private const double LargestLabel = 17;
    private const int MostLines = 3;

    private static readonly TextStyle Number = TextStyle.Bold(8.5, Palette.Text);
    private static readonly TextStyle Line = TextStyle.Regular(8, Palette.Text);
    private static readonly TextStyle Inks = TextStyle.Regular(6.5, Palette.Text);

    internal static IEnumerable<SceneItem> Draw(BlockLabel label, SceneBox box)
    {
        var code = new SceneBox(box.Right - CodeSide - 2, box.Top + ((box.Height - CodeSide) / 2), box.Right - 2, box.Bottom - ((box.Height - CodeSide) / 2));
        return [.. Words(label, box, code.Left - box.Left - Padding), QrSymbol.Of(label.Address.AbsoluteUri).In(code.Left, code.Top, CodeSide, Palette.Black)];
    }

    // In the middle of the height, away from where a cut may go astray.
    private static IEnumerable<SceneItem> Words(BlockLabel label, SceneBox box, double width)
    {
        var (number, stage, inks) = (
            Paragraph.Of(label.CaseNumber, Number, width, MostLines),
            Paragraph.Of($"Stage {label.Stage}{(label.Piece is { } piece ? $", piece {piece}" : "")}", Line, width),
            Paragraph.Of((label.FromInk, label.ToInk) is (null, null) ? "no ink entered" : $"{label.FromInk ?? "none"} / {label.ToInk ?? "none"}", Inks, width, MostLines));
        var gap = Line.Size * 0.3;
        var x = box.Left + Padding;
        var y = box.Top + ((box.Height - number.Height - stage.Height - LargestLabel - inks.Height - (3 * gap)) / 2);
        var belowStage = y + number.Height + gap + stage.Height + gap;
        return
        [
            .. number.At(x, y),
            .. stage.At(x, y + number.Height + gap),
            .. Name(label.Block, x, belowStage + (LargestLabel * 0.8), width),
            .. inks.At(x, belowStage + LargestLabel + gap),
        ];
    }

    // As large as the width lets it be: it is what the bench looks for.
    private static IEnumerable<SceneItem> Name(string label, double x, double baseline, double width)
    {
        const string Before = "Block ";
        var indent = Line.WidthOf(Before);
        var size = Math.Min(LargestLabel, LargestLabel * (width - indent) / TextStyle.Bold(LargestLabel, Palette.Text).WidthOf(label));
        yield return Line.Write(Before.TrimEnd(), new ScenePoint(x, baseline));
        yield return TextStyle.Bold(size, Palette.Text).Write(label, new ScenePoint(x + indent, baseline));
    }
}
