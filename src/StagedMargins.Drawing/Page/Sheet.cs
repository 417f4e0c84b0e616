using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>A page that is filled from top to bottom.</summary>
/// <param name="measures">The sizes.</param>
/// <param name="top">Where it begins.</param>
internal sealed class Sheet(Measures measures, double top)
{
    private readonly List<SceneGroup> groups = [];

    /// <summary>The sizes.</summary>
    internal Measures Measures => measures;

    /// <summary>Where the next part begins.</summary>
    internal double Top { get; private set; } = top;

    /// <summary>What was put on the page.</summary>
    internal IReadOnlyList<SceneGroup> Groups => groups;

    /// <summary>Left margin.</summary>
    internal double Left => measures.Margin;

    /// <summary>Right margin.</summary>
    internal double Right => measures.Width - measures.Margin;

    /// <summary>Puts shapes on the page.</summary>
    internal void Add(params IEnumerable<SceneGroup> more) => groups.AddRange(more);

    /// <summary>Leaves room.</summary>
    internal void Down(double units) => Top += units;

    /// <summary>Writes a paragraph from margin to margin, or narrower, and goes below it.</summary>
    internal void Write(SceneRole role, string text, TextStyle style, double? width = null, int longest = int.MaxValue)
    {
        var paragraph = Paragraph.Of(text, style, width ?? measures.Inner, longest);
        Add(new SceneGroup(role, text, [.. paragraph.At(Left, Top)]));
        Down(paragraph.Height);
    }
}
