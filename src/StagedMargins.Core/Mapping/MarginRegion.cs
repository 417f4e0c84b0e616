using System.Text.Json.Serialization;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

/// <summary>
/// A part of a margin: clock arcs, and for the floor its centre, which lies under no particular hour and behaves as one more
/// element of the set. On the peripheral margin the centre is never in it. The default value is no part of the margin.
/// </summary>
/// <param name="Arcs">The clock arcs.</param>
/// <param name="Centre">True where the middle of the floor is in the region.</param>
public readonly record struct MarginRegion(ArcSet Arcs, bool Centre)
{
    // A field, because a property hands out a copy of all twelve words.
    private readonly ArcSet arcs = Arcs;

    /// <summary>The clock arcs.</summary>
    public ArcSet Arcs
    {
        get => arcs;
        init => arcs = value;
    }

    /// <summary>No part of the margin.</summary>
    public static MarginRegion None => default;

    /// <summary>The whole peripheral edge.</summary>
    public static readonly MarginRegion WholePeripheral = new(ArcSet.Full, false);

    /// <summary>The whole floor, centre included.</summary>
    public static readonly MarginRegion WholeDeep = new(ArcSet.Full, true);

    /// <summary>True where the region holds no place.</summary>
    [JsonIgnore]
    public bool IsEmpty => !Centre && arcs.IsEmpty;

    /// <summary>One arc, or none, and the centre or not.</summary>
    public static MarginRegion Of(ClockArc? arc, bool centre = false) => new(arc is { } one ? ArcSet.Of(one) : ArcSet.Empty, centre);

    /// <summary>The union of many regions.</summary>
    public static MarginRegion UnionOf(IEnumerable<MarginRegion> regions) => regions.Aggregate(None, (union, region) => union.Union(region));

    /// <summary>Places in this region or the other.</summary>
    public MarginRegion Union(in MarginRegion other) => new(arcs.Union(other.arcs), Centre || other.Centre);

    /// <summary>Places in both regions.</summary>
    public MarginRegion Intersect(in MarginRegion other) => new(arcs.Intersect(other.arcs), Centre && other.Centre);

    /// <summary>Places in this region and not in the other.</summary>
    public MarginRegion Except(in MarginRegion other) => new(arcs.Except(other.arcs), Centre && !other.Centre);

    /// <summary>Each arc longer by a number of clock minutes on both sides; the centre stays as it is.</summary>
    public MarginRegion Widen(int minutes) => this with { Arcs = arcs.Widen(minutes) };

    /// <summary>True where every place of the other region lies in this one.</summary>
    public bool Contains(in MarginRegion other) => other.Except(this).IsEmpty;

    /// <summary>Gathers many places into one region, without a region for each.</summary>
    public struct Builder
    {
        private ArcSet.Builder arcs;
        private bool hasCentre;

        /// <summary>Adds an arc, or none, and the centre or not.</summary>
        public void Add(ClockArc? arc, bool centre)
        {
            hasCentre |= centre;
            if (arc is { } one)
            {
                arcs.Add(one);
            }
        }

        /// <summary>All places together.</summary>
        public readonly MarginRegion Build() => new(arcs.Build(), hasCentre);
    }
}
