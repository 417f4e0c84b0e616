namespace StagedMargins.Core.Tests.Shape;

/// <summary>
/// Closed forms to check shapes against. Sources are named from memory: S. Ramanujan, "Modular equations and approximations to π",
/// Quarterly Journal of Mathematics 45 (1914) 350–372; M. Abramowitz and I. A. Stegun, "Handbook of Mathematical Functions", §17.6;
/// J. Steiner's formula of 1840 for parallel bodies, in R. Schneider, "Convex Bodies: The Brunn–Minkowski Theory". The rest is
/// elementary geometry.
/// </summary>
internal static class ClosedForm
{
    /// <summary>The largest relative error that the tests of closed forms allow: 0.01 %, a fiftieth of what is promised.</summary>
    public const double Tight = 1e-4;

    public static double EllipseArea(double length, double width) => Math.PI * length * width / 4;

    /// <summary>Ramanujan's second approximation of the perimeter, good to parts in a billion for wounds.</summary>
    public static double EllipsePerimeterByRamanujan(double length, double width)
    {
        var h = Math.Pow((length - width) / (length + width), 2);
        return Math.PI / 2 * (length + width) * (1 + (3 * h / (10 + Math.Sqrt(4 - (3 * h)))));
    }

    /// <summary>The exact perimeter 4·a·E(e) by the arithmetic–geometric mean.</summary>
    public static double EllipsePerimeter(double length, double width)
    {
        var (mean, geometric) = (1.0, Math.Min(length, width) / Math.Max(length, width));
        var (sum, power) = ((1 - (geometric * geometric)) / 2, 0.5);
        while (mean - geometric > 1e-15)
        {
            var difference = (mean - geometric) / 2;
            (mean, geometric) = ((mean + geometric) / 2, Math.Sqrt(mean * geometric));
            power *= 2;
            sum += power * difference * difference;
        }

        return 2 * Math.Max(length, width) * (Math.PI / (2 * mean)) * (1 - sum);
    }

    /// <summary>Area of a convex body widened all round: A + P·w + π·w².</summary>
    public static double Widened(double area, double perimeter, double width) => area + (perimeter * width) + (Math.PI * width * width);

    /// <summary>Area of a circle with a rim of a width over some clock minutes: πR² + α/2·((R + w)² − R²).</summary>
    public static double CircleWithRim(double radius, double width, int minutes) =>
        (Math.PI * radius * radius) + Strip(radius, width, minutes);

    /// <summary>Area that a rim adds to a circle.</summary>
    public static double Strip(double radius, double width, int minutes) =>
        Radians(minutes) / 2 * (((radius + width) * (radius + width)) - (radius * radius));

    /// <summary>Perimeter of a circle with a rim: two arcs and, short of the whole circle, two sides.</summary>
    public static double PerimeterWithRim(double radius, double width, int minutes) => minutes == 720
        ? 2 * Math.PI * (radius + width)
        : (radius * ((2 * Math.PI) - Radians(minutes))) + ((radius + width) * Radians(minutes)) + (2 * width);

    public static double Radians(int minutes) => minutes * Math.PI / 360;
}
