using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Page;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing;

/// <summary>
/// A map as shapes with a meaning, before anything is painted. Scene units: x to the right, y down, from the upper left corner.
/// </summary>
public sealed class MapScene
{
    private MapScene(MapRequest request, MapDetail detail, StageSeries? series)
    {
        var content = MapContent.Of(request, series);
        var (sheet, frame) = MapPage.LayOut(content, Measures.For(detail));
        (Width, Height) = (sheet.Measures.Width, Math.Ceiling(sheet.Top));
        (FaceMiddle, UnitsPerMm, Groups) = (frame.Middle, frame.UnitsPerMm, sheet.Groups);
        Title = (content.Stage is null
            ? $"Clock face of case {request.Case.CaseNumber}"
            : $"Margin map of case {request.Case.CaseNumber}, {(request.Cumulative ? "after " : "")}stage {content.Stage.Number}")
            + (request.View == MapView.Slide ? ", slide view" : ", patient view");
        Description = Describe(content);
    }

    /// <summary>Width in scene units.</summary>
    public double Width { get; }

    /// <summary>Height in scene units.</summary>
    public double Height { get; }

    /// <summary>The middle of the clock face: the tumour's centre.</summary>
    public ScenePoint FaceMiddle { get; }

    /// <summary>Scene units to a millimetre of the wound; 0 before any layer.</summary>
    public double UnitsPerMm { get; }

    /// <summary>All shapes in the order of painting.</summary>
    public IReadOnlyList<SceneGroup> Groups { get; }

    /// <summary>A title. No patient data.</summary>
    public string Title { get; }

    /// <summary>The map in words: state, notices, and every mark with its numbers. No patient data.</summary>
    public string Description { get; }

    /// <summary>Computes a map.</summary>
    /// <param name="request">Which map.</param>
    /// <param name="detail">How much it shows.</param>
    /// <exception cref="Core.InvalidEntryException">The case has no such stage.</exception>
    public static MapScene Of(MapRequest request, MapDetail detail = MapDetail.Full) => new(request, detail, null);

    /// <summary>Computes one of many maps of a case, in full detail, from a series that is computed already.</summary>
    internal static MapScene Of(MapRequest request, StageSeries series) => new(request, MapDetail.Full, series);

    /// <summary>The groups of a role.</summary>
    public IEnumerable<SceneGroup> WithRole(SceneRole role) => Groups.Where(group => group.Role == role);

    // Words that people wrote stay out: a description travels further than the picture.
    private static string Describe(MapContent content) => string.Join(' ',
    [
        $"{MapWords.Of(content.Request.View)}.",
        $"{content.StateInWords}.",
        .. Notice.Of(content).Select(notice => notice.Text),
        .. content.Marks.Select(mark => $"{mark.Name}."),
        Sentences.Disclaimer,
    ]);
}
