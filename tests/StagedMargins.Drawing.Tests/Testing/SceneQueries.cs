using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>What tests ask of a scene.</summary>
internal static class SceneQueries
{
    internal static IEnumerable<SceneText> Texts(this MapScene scene) => scene.Groups.SelectMany(group => group.Texts);

    internal static string AllWords(this MapScene scene) =>
        string.Join('\n', [scene.Title, scene.Description, .. scene.Groups.Select(group => group.Name), .. scene.Texts().Select(text => text.Text)]);

    internal static IEnumerable<ScenePoint> Points(this SceneGroup group) =>
        group.Paths.SelectMany(path => path.Contours).SelectMany(contour => contour.Points);

    /// <summary>Points of the filled shape alone, without hatch.</summary>
    internal static IEnumerable<ScenePoint> Filled(this SceneGroup group) =>
        group.Paths.Where(path => path.Fill is not null).SelectMany(path => path.Contours).SelectMany(contour => contour.Points);

    internal static double Distance(this MapScene scene, ScenePoint at) =>
        Math.Sqrt(Math.Pow(at.X - scene.FaceMiddle.X, 2) + Math.Pow(at.Y - scene.FaceMiddle.Y, 2));

    /// <summary>Clock minutes of a point, 0 to below 720, clockwise from 12 o'clock.</summary>
    internal static double Minutes(this MapScene scene, ScenePoint at)
    {
        var degrees = Math.Atan2(at.X - scene.FaceMiddle.X, scene.FaceMiddle.Y - at.Y) * 180 / Math.PI;
        return (degrees < 0 ? degrees + 360 : degrees) * 2;
    }

    /// <summary>Area of a ring in square scene units, by the shoelace formula.</summary>
    internal static double Area(this Contour ring) => Math.Abs(ring.Points
        .Zip(ring.Points.Skip(1).Append(ring.Points[0]), (a, b) => (a.X * b.Y) - (b.X * a.Y))
        .Sum()) / 2;

    internal static SceneGroup Only(this MapScene scene, SceneRole role) => scene.WithRole(role).ShouldHaveSingleItem();
}
