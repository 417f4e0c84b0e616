using System.Text.Json.Serialization;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

/// <summary>
/// A part of a margin: clock arcs, and for the floor its centre, which lies under no particular hour and behaves as one more
/// element of the set. On the peripheral margin the centre is never in it.
/// </summary>
/// <param name="Arcs">The clock arcs.</param>
/// <param name="Centre">True where the middle of the floor is in the region.</param>
public sealed record MarginRegion(ArcSet Arcs, bool Centre)
{
    /// <summary>No part of the margin.</summary>
    public static readonly MarginRegion None = new(ArcSet.Empty, false);

    /// <summary>The whole peripheral edge.</summary>
    public static readonly MarginRegion WholeEdge = new(ArcSet.Full, false);

    /// <summary>The whole floor, centre included.</summary>
    public static readonly MarginRegion WholeFloor = new(ArcSet.Full, true);

    /// <summary>True where the region holds no place.</summary>
    [JsonIgnore]
    public bool IsEmpty => Arcs.IsEmpty && !Centre;

    /// <summary>One arc, or none, and the centre or not.</summary>
    public static MarginRegion Of(ClockArc? arc, bool centre = false) => new(arc is { } a ? ArcSet.Of(a) : ArcSet.Empty, centre);

    /// <summary>The union of many regions.</summary>
    public static MarginRegion UnionOf(IEnumerable<MarginRegion> regions)
    {
        // All at once: one by one, the union of the findings of a large case is sorted anew for each of them.
        var all = regions.ToList();
        return new MarginRegion(ArcSet.Of(all.SelectMany(region => region.Arcs)), all.Exists(region => region.Centre));
    }

    /// <summary>Places in this region or the other.</summary>
    public MarginRegion Union(MarginRegion other) => new(Arcs.Union(other.Arcs), Centre || other.Centre);

    /// <summary>Places in both regions.</summary>
    public MarginRegion Intersect(MarginRegion other) => new(Arcs.Intersect(other.Arcs), Centre && other.Centre);

    /// <summary>Places in this region and not in the other.</summary>
    public MarginRegion Except(MarginRegion other) => new(Arcs.Except(other.Arcs), Centre && !other.Centre);

    /// <summary>Each arc longer by a number of clock minutes on both sides; the centre stays as it is.</summary>
    public MarginRegion Widen(int minutes) => this with { Arcs = Arcs.Widen(minutes) };

    /// <summary>True where every place of the other region lies in this one.</summary>
    public bool Contains(MarginRegion other) => other.Except(this).IsEmpty;

    /// <summary>The region in words, for example <c>07:30–09:00 and the centre</c>.</summary>
    public override string ToString() => (Arcs.IsEmpty, Centre) switch
    {
        (true, true) => "the centre",
        (false, true) => $"{Arcs} and the centre",
        _ => Arcs.ToString(),
    };
}
