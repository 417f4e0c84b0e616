using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Overlay;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Drawing.Content;

/// <summary>
/// Wound and margins after each stage of a case, computed once for all its maps: every map would compute them again from the
/// first layer on, which a record of forty stages can't afford.
/// </summary>
internal sealed class StageSeries
{
    private readonly IReadOnlyList<Defect> wounds;
    private readonly List<CaseMargins> margins;
    private readonly Geometry?[] added;

    /// <summary>Computes the series.</summary>
    /// <param name="stages">Stages 1 to n, in order.</param>
    /// <param name="overlap">The clinic's overlap, for the layer that is still to come.</param>
    internal StageSeries(IReadOnlyList<Stage> stages, Overlap overlap)
    {
        (wounds, added, margins) = (Defect.Each(stages), new Geometry?[stages.Count], [CaseMargins.Untouched(overlap)]);
        foreach (var stage in stages)
        {
            margins[^1] = margins[^1] with { Overlap = stage.Overlap };
            margins.Add(margins[^1].Then(stage) with { Overlap = overlap });
        }
    }

    /// <summary>The margins after a stage.</summary>
    /// <param name="stage">The stage, from 1; 0 before the first.</param>
    internal CaseMargins MarginsAfter(int stage) => margins[stage];

    /// <summary>The wound after a stage; null before the first.</summary>
    /// <param name="stage">The stage, from 1; 0 before the first.</param>
    internal Defect? DefectAfter(int stage) => stage == 0 ? null : wounds[stage - 1];

    /// <summary>What a stage added to the wound as seen from above, mm; empty for a base alone.</summary>
    /// <param name="stage">The stage, from 1.</param>
    internal Geometry AddedBy(int stage) => added[stage - 1] ??= DefectAfter(stage - 1) is { } before
        ? SnappedOverlay.Combine(wounds[stage - 1].Shape, before.Shape, SpatialFunction.Difference)
        : wounds[stage - 1].Shape;
}
