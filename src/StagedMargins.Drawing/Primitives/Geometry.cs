namespace StagedMargins.Drawing.Primitives;

/// <summary>A point of the picture in scene units; x to the right, y down.</summary>
/// <param name="X">To the right.</param>
/// <param name="Y">Down.</param>
public readonly record struct ScenePoint(double X, double Y);

/// <summary>An upright box in scene units.</summary>
/// <param name="Left">Left side.</param>
/// <param name="Top">Upper side.</param>
/// <param name="Right">Right side.</param>
/// <param name="Bottom">Lower side.</param>
public readonly record struct SceneBox(double Left, double Top, double Right, double Bottom)
{
    /// <summary>Width in scene units.</summary>
    public double Width => Right - Left;

    /// <summary>Height in scene units.</summary>
    public double Height => Bottom - Top;

    /// <summary>The smallest box around some points.</summary>
    public static SceneBox Around(IEnumerable<ScenePoint> points) => points.Aggregate(
        new SceneBox(double.MaxValue, double.MaxValue, double.MinValue, double.MinValue),
        (box, p) => new SceneBox(Math.Min(box.Left, p.X), Math.Min(box.Top, p.Y), Math.Max(box.Right, p.X), Math.Max(box.Bottom, p.Y)));

    /// <summary>True where both boxes share more than a side.</summary>
    public bool Overlaps(SceneBox other) =>
        Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    /// <summary>True where the other box lies in this one, sides included.</summary>
    public bool Contains(SceneBox other) =>
        Left <= other.Left && Top <= other.Top && other.Right <= Right && other.Bottom <= Bottom;

    /// <summary>A box about its middle.</summary>
    public static SceneBox About(ScenePoint middle, double width, double height) =>
        new(middle.X - (width / 2), middle.Y - (height / 2), middle.X + (width / 2), middle.Y + (height / 2));

    /// <summary>The box with a border around it.</summary>
    /// <param name="border">Scene units on each side.</param>
    public SceneBox Grown(double border) => new(Left - border, Top - border, Right + border, Bottom + border);
}

/// <summary>A line through points, closed to a ring or open.</summary>
/// <param name="Points">Its points in order; a closed one does not repeat its first point.</param>
/// <param name="Closed">True for a ring.</param>
public sealed record Contour(IReadOnlyList<ScenePoint> Points, bool Closed)
{
    // 2.5° a step: the chord of the largest circle drawn here is off by less than 0.1 scene units, and no circle is measured.
    private const int CircleSteps = 144;

    /// <summary>A straight line.</summary>
    public static Contour Line(ScenePoint from, ScenePoint to) => new([from, to], false);

    /// <summary>A dot, which a pen with round ends draws as wide as it is.</summary>
    public static Contour Dot(ScenePoint at) => new([at, at with { X = at.X + 0.01 }], false);

    /// <summary>A circle.</summary>
    public static Contour Circle(ScenePoint centre, double radius) => new(
        [.. Enumerable.Range(0, CircleSteps)
            .Select(i => Math.SinCos(2 * Math.PI * i / CircleSteps))
            .Select(turn => new ScenePoint(centre.X + (radius * turn.Sin), centre.Y - (radius * turn.Cos)))],
        true);

    /// <summary>An upright box whose shorter sides are half circles; of equal sides, a circle.</summary>
    public static Contour Capsule(SceneBox box)
    {
        var radius = Math.Min(box.Width, box.Height) / 2;
        var middle = new ScenePoint((box.Left + box.Right) / 2, (box.Top + box.Bottom) / 2);
        var aside = new ScenePoint((box.Width / 2) - radius, (box.Height / 2) - radius);
        return new(
            [.. Circle(middle, radius).Points.Select(p => new ScenePoint(
                p.X + (p.X >= middle.X ? aside.X : -aside.X),
                p.Y + (p.Y >= middle.Y ? aside.Y : -aside.Y)))],
            true);
    }

    /// <summary>An upright rectangle.</summary>
    public static Contour Rectangle(SceneBox box) => new(
        [new(box.Left, box.Top), new(box.Right, box.Top), new(box.Right, box.Bottom), new(box.Left, box.Bottom)],
        true);
}
