using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>Which places of the face are taken by words and signs, so that none is written over another.</summary>
internal sealed class OccupiedAreas
{
    private readonly List<SceneBox> taken = [];

    /// <summary>Takes a place that was free.</summary>
    /// <returns>False where something stands there already.</returns>
    internal bool TryTake(SceneBox box)
    {
        if (!IsFree(box))
        {
            return false;
        }

        taken.Add(box);
        return true;
    }

    /// <summary>True where nothing stands in a place.</summary>
    private bool IsFree(SceneBox box) => !taken.Exists(box.Overlaps);

    /// <summary>Takes the places of the texts of groups.</summary>
    internal void TakeTexts(IEnumerable<SceneGroup> groups) => taken.AddRange(groups.SelectMany(group => group.Texts).Select(text => text.Box));

    /// <summary>Takes the places along every line of groups.</summary>
    internal void TakeLines(IEnumerable<SceneGroup> groups)
    {
        foreach (var contour in groups.SelectMany(group => group.Paths).SelectMany(path => path.Contours))
        {
            Take(contour);
        }
    }

    /// <summary>Takes the places along a contour.</summary>
    internal void Take(Contour contour)
    {
        for (var i = 1; i < contour.Points.Count; i++)
        {
            TakeLine(contour.Points[i - 1], contour.Points[i]);
        }
    }

    /// <summary>Takes the places that a line crosses.</summary>
    private void TakeLine(ScenePoint from, ScenePoint to)
    {
        const double Step = 6;
        var steps = (int)Math.Ceiling(Math.Sqrt(Math.Pow(to.X - from.X, 2) + Math.Pow(to.Y - from.Y, 2)) / Step);
        for (var i = 0; i <= steps; i++)
        {
            var share = steps == 0 ? 0 : i / (double)steps;
            var at = new ScenePoint(from.X + (share * (to.X - from.X)), from.Y + (share * (to.Y - from.Y)));
            taken.Add(SceneBox.About(at, Step, Step));
        }
    }
}
