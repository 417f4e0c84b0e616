using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Documents;

/// <summary>Pages that are filled from top to bottom, a new one where the last is full.</summary>
/// <param name="left">Left margin, points.</param>
/// <param name="top">Where each page begins.</param>
/// <param name="right">Right margin.</param>
/// <param name="bottom">Where each page ends.</param>
internal sealed class PageFlow(double left, double top, double right, double bottom)
{
    internal const double TextSize = 9;
    internal const double Gap = 6;

    // The least share of its full size at which the small words of a map are still read, and what is kept free below it where not all of what follows finds room.
    private const double SmallestMap = 0.83;
    private const double AfterMap = 130;

    internal static readonly TextStyle Body = TextStyle.Regular(TextSize, Palette.Text);
    internal static readonly TextStyle Strong = TextStyle.Bold(TextSize, Palette.Text);
    private static readonly TextStyle Title = TextStyle.Bold(14, Palette.Text);
    private static readonly TextStyle Subtitle = TextStyle.Bold(10.5, Palette.Text);

    private readonly List<(List<SceneItem> Items, List<PlacedMap> Maps)> pages = [([], [])];
    private double used;

    /// <summary>Left margin.</summary>
    internal double Left => left;

    /// <summary>Width between the margins.</summary>
    internal double Width => right - left;

    /// <summary>Room on an empty page.</summary>
    internal double WholePage => bottom - top;

    /// <summary>Where the next part begins.</summary>
    internal double Y => top + used;

    /// <summary>True where some words have letters that the typeface lacks.</summary>
    internal bool LacksLetters { get; private set; }

    /// <summary>The pages.</summary>
    internal IReadOnlyList<DocumentPage> Pages => [.. pages.Select(page => new DocumentPage(page.Items, page.Maps))];

    /// <summary>Begins a new page where less than this is left; true where it did.</summary>
    internal bool EnsureSpace(double height)
    {
        if (Y + height <= bottom || used <= 0)
        {
            return false;
        }

        NewPage();
        return true;
    }

    /// <summary>Begins a new page, unless the present one is empty.</summary>
    internal void NewPage()
    {
        if (used > 0)
        {
            pages.Add(([], []));
            used = 0;
        }
    }

    /// <summary>Leaves room.</summary>
    internal void Down(double points) => used += points;

    /// <summary>Puts shapes on the page.</summary>
    internal void Add(params IEnumerable<SceneItem> items)
    {
        foreach (var item in items)
        {
            LacksLetters |= item is SceneText text && !MapTypeface.CanWrite(text.Text);
            pages[^1].Items.Add(item);
        }
    }

    /// <summary>The title of a section, on one page with what follows it.</summary>
    internal void Section(string words, double following = 60) => Heading(words, Title, following);

    /// <summary>The title of a part of a section.</summary>
    internal void Part(string words) => Heading(words, Subtitle, 30);

    /// <summary>A paragraph, broken between lines where the page ends.</summary>
    internal void Write(string words, TextStyle? style = null)
    {
        var lettering = style ?? Body;
        foreach (var line in Paragraph.Of(words, lettering, Width).Lines)
        {
            EnsureSpace(lettering.LineHeight);
            Add(lettering.Write(line, new ScenePoint(left, Y + lettering.Ascent)));
            used += lettering.LineHeight;
        }
    }

    /// <summary>A paragraph in a heavy frame, so that it is seen first in black and white too.</summary>
    internal void Loud(string words)
    {
        var lines = Paragraph.Of(words, Strong, Width - (2 * Gap));
        if (lines.Height + (3 * Gap) > WholePage)
        {
            Write(words, Strong);
            return;
        }

        EnsureSpace(lines.Height + (3 * Gap));
        var box = new SceneBox(left, Y, right, Y + lines.Height + (2 * Gap));
        Add(ScenePath.Stroked(Contour.Rectangle(box), new Pen(Palette.Text, 2)));
        Add(lines.At(left + Gap, Y + Gap));
        used = box.Bottom + Gap - top;
    }

    /// <summary>A map as wide as the page, a little smaller where it then stands on a page with what comes before it and what is told below it.</summary>
    internal void Map(MapScene scene, Action<PageFlow> below)
    {
        Map(scene, HeightOf(below));
        below(this);
    }

    private void Map(MapScene scene, double below)
    {
        var widest = Math.Min(Width / scene.Width, WholePage / scene.Height);
        var whole = (bottom - Y - below - Gap) / scene.Height;
        var fits = whole >= SmallestMap * widest ? whole : (bottom - Y - AfterMap) / scene.Height;
        var scale = Y + (scene.Height * SmallestMap * widest) > bottom ? widest : Math.Clamp(fits, SmallestMap * widest, widest);
        EnsureSpace(scene.Height * scale);
        var x = left + ((Width - (scene.Width * scale)) / 2);
        var box = new SceneBox(x, Y, x + (scene.Width * scale), Y + (scene.Height * scale));
        pages[^1].Maps.Add(new PlacedMap(scene, box));
        used = box.Bottom + Gap - top;
    }

    // All of a page for what needs more than one.
    private double HeightOf(Action<PageFlow> part)
    {
        var trial = new PageFlow(left, top, right, bottom);
        part(trial);
        return trial.pages.Count == 1 ? trial.used : WholePage;
    }

    private void Heading(string words, TextStyle style, double following)
    {
        used += used > 0 ? Gap : 0;
        EnsureSpace(style.LineHeight + following);
        Write(words, style);
        used += Gap / 2;
    }
}
