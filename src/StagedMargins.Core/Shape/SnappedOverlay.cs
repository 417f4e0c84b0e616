using NetTopologySuite.Geometries;
using NetTopologySuite.Noding.Snap;
using NetTopologySuite.Operation.Overlay;
using NetTopologySuite.Operation.OverlayNG;

namespace StagedMargins.Core.Shape;

/// <summary>
/// Union, intersection and difference of shapes in millimetres, in which edges nearer than <see cref="SnapMm"/> are one edge.
/// Neighbouring wedges share a side that rounding moves by some 10⁻¹⁵ mm. Left alone, it stays as a slit or a needle: no area, but
/// both its edges count in the perimeter, are drawn as a line, and the next rim would be measured from it. A nanometre closes it.
/// </summary>
public static class SnappedOverlay
{
    /// <summary>How near edges are taken for one, mm.</summary>
    public const double SnapMm = 1e-6;

    /// <summary>Overlays two shapes.</summary>
    /// <param name="left">The one shape, mm.</param>
    /// <param name="right">The other shape, mm.</param>
    /// <param name="what">Union, intersection or difference (left without right).</param>
    /// <returns>The result, mm; where sides run along one another it may hold lines beside its polygons.</returns>
    public static Geometry Combine(Geometry left, Geometry right, SpatialFunction what)
    {
        try
        {
            return OverlayNG.Overlay(left, right, what, new SnappingNoder(SnapMm));
        }
        catch (TopologyException)
        {
            // Snapping may in theory leave two edges crossed; the slower way with several fallbacks does not.
            return OverlayNGRobust.Overlay(left, right, what);
        }
    }
}
