using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Content;

/// <summary>What a map is drawn from: the case after a stage, by the readings that count now.</summary>
internal sealed class MapContent
{
    private readonly MarkWords edge;
    private readonly MarkWords floor;

    private MapContent(MapRequest request, StageSeries? series)
    {
        Request = request;
        Stages = [.. request.Case.Stages.Take(request.Stage)];
        Margins = series?.MarginsAfter(request.Stage) ?? request.Case.MarginsAfter(request.Stage, request.Overlap);
        Series = series ?? new StageSeries(Stages, request.Overlap);
        (edge, floor) = (new MarkWords(this, Margin.Peripheral), new MarkWords(this, Margin.Deep));
        Marks = Content.Marks.Of(this);
    }

    /// <summary>The request.</summary>
    internal MapRequest Request { get; }

    /// <summary>The case.</summary>
    internal SurgicalCase Case => Request.Case;

    /// <summary>Stages 1 to that of the map.</summary>
    internal IReadOnlyList<Stage> Stages { get; }

    /// <summary>The stage of the map; null before any.</summary>
    internal Stage? Stage => Stages.Count == 0 ? null : Stages[^1];

    /// <summary>Both margins after the stage.</summary>
    internal CaseMargins Margins { get; }

    /// <summary>The wound after each stage, at least up to that of the map.</summary>
    internal StageSeries Series { get; }

    /// <summary>The wound now; null before any.</summary>
    internal Defect? Wound => Series.DefectAfter(Stages.Count);

    /// <summary>What is marked on the face, in the order it is painted.</summary>
    internal IReadOnlyList<Mark> Marks { get; }

    /// <summary>What the marks of a margin say.</summary>
    internal MarkWords WordsOf(Margin margin) => margin == Margin.Peripheral ? edge : floor;

    /// <summary>True for the stage's own map with its blocks.</summary>
    internal bool ShowsBlocks => !Request.Cumulative && Stage is not null;

    /// <summary>How the case stands after the stage.</summary>
    internal Standing Standing => Standing.Of(Case, Margins.State, Stages.Count);

    /// <summary>The same in words.</summary>
    internal string StateInWords => Standing.InWords().Capitalised();

    /// <summary>Reads what a request asks for.</summary>
    /// <param name="request">The request.</param>
    /// <param name="series">The series of the case with the request's overlap, where it is computed already.</param>
    /// <exception cref="Core.InvalidEntryException">The case has no such stage.</exception>
    internal static MapContent Of(MapRequest request, StageSeries? series = null) => new(request, series);
}
