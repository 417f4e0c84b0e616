using System.Collections;

namespace StagedMargins.Core.ClockFace;

/// <summary>
/// A union of clock arcs in one canonical form: sorted by where they begin, disjoint, merged where they touch, an arc over
/// 12 o'clock in one part and the whole circle as 12:00–12:00. Two sets with the same places are equal. All operations are
/// exact integer arithmetic.
/// </summary>
public sealed class ArcSet : IReadOnlyList<ClockArc>, IEquatable<ArcSet>
{
    /// <summary>No place at all.</summary>
    public static readonly ArcSet Empty = new([]);

    /// <summary>The whole circle.</summary>
    public static readonly ArcSet Full = new([new Span(0, ClockPosition.MinutesInCircle)]);

    // Sorted, disjoint, not touching, cut at 12 o'clock: 0 ≤ Start < End ≤ 720.
    private readonly Span[] spans;
    private readonly ClockArc[] arcs;

    private ArcSet(Span[] spans)
    {
        this.spans = spans;
        arcs = ToArcs(spans);
    }

    /// <summary>Length of all arcs together in clock minutes, 0 to 720.</summary>
    public int Minutes => spans.Sum(span => span.End - span.Start);

    /// <summary>True where the set holds no place.</summary>
    public bool IsEmpty => spans.Length == 0;

    /// <summary>True where the set is the whole circle.</summary>
    public bool IsFull => Minutes == ClockPosition.MinutesInCircle;

    /// <summary>Number of arcs in the canonical form.</summary>
    public int Count => arcs.Length;

    /// <summary>An arc of the canonical form.</summary>
    public ClockArc this[int index] => arcs[index];

    /// <summary>The union of any arcs, in any order, overlapping or not.</summary>
    public static ArcSet Of(params IEnumerable<ClockArc> arcs) => Merge(arcs.SelectMany(Cut));

    /// <summary>Places in this set or the other.</summary>
    public ArcSet Union(ArcSet other) => Merge(spans.Concat(other.spans));

    /// <summary>Places in none of the arcs.</summary>
    public ArcSet Complement()
    {
        var gaps = new List<Span>();
        var reached = 0;
        foreach (var span in spans)
        {
            if (span.Start > reached)
            {
                gaps.Add(new Span(reached, span.Start));
            }

            reached = span.End;
        }

        if (reached < ClockPosition.MinutesInCircle)
        {
            gaps.Add(new Span(reached, ClockPosition.MinutesInCircle));
        }

        return new ArcSet([.. gaps]);
    }

    /// <summary>Places in both sets.</summary>
    public ArcSet Intersect(ArcSet other) => Complement().Union(other.Complement()).Complement();

    /// <summary>Places in this set and not in the other.</summary>
    public ArcSet Except(ArcSet other) => Complement().Union(other).Complement();

    /// <summary>Each arc made longer on both sides.</summary>
    /// <param name="minutes">Clock minutes on each side, 0 or more.</param>
    /// <exception cref="InvalidEntryException">A negative number of minutes.</exception>
    public ArcSet Widen(int minutes)
    {
        if (minutes < 0)
        {
            throw new InvalidEntryException("minutes", "An arc set is widened by 0 clock minutes or more.");
        }

        return Of(arcs.Select(arc => arc.Minutes + (2L * minutes) >= ClockPosition.MinutesInCircle
            ? ClockArc.Whole
            : new ClockArc(arc.From.Plus(-minutes), arc.To.Plus(minutes))));
    }

    /// <summary>True where a position lies in the set.</summary>
    public bool Contains(ClockPosition position) =>
        spans.Any(span => span.Start <= position.Minutes && position.Minutes < span.End);

    /// <summary>True where every place of the other set lies in this one.</summary>
    public bool Contains(ArcSet other) => other.Except(this).IsEmpty;

    /// <inheritdoc/>
    public bool Equals(ArcSet? other) => other is not null && spans.AsSpan().SequenceEqual(other.spans);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ArcSet);

    /// <inheritdoc/>
    public override int GetHashCode() => spans.Aggregate(0, HashCode.Combine);

    /// <inheritdoc/>
    public IEnumerator<ClockArc> GetEnumerator() => ((IEnumerable<ClockArc>)arcs).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <summary>The arcs in words, for example <c>07:30–09:00, 11:00–01:00</c>; <c>none</c> where empty, <c>whole circle</c> where full.</summary>
    public override string ToString() => IsEmpty ? "none" : IsFull ? "whole circle" : string.Join(", ", arcs);

    private static IEnumerable<Span> Cut(ClockArc arc)
    {
        var end = arc.From.Minutes + arc.Minutes;
        if (end <= ClockPosition.MinutesInCircle)
        {
            return [new Span(arc.From.Minutes, end)];
        }

        return [new Span(arc.From.Minutes, ClockPosition.MinutesInCircle), new Span(0, end - ClockPosition.MinutesInCircle)];
    }

    private static ArcSet Merge(IEnumerable<Span> any)
    {
        var merged = new List<Span>();
        foreach (var span in any.OrderBy(span => span.Start))
        {
            if (merged.Count > 0 && span.Start <= merged[^1].End)
            {
                merged[^1] = new Span(merged[^1].Start, Math.Max(merged[^1].End, span.End));
            }
            else
            {
                merged.Add(span);
            }
        }

        return new ArcSet([.. merged]);
    }

    private static ClockArc[] ToArcs(Span[] spans)
    {
        var arcs = spans.Select(span => ClockArc.Starting(new ClockPosition(span.Start), span.End - span.Start)).ToList();
        var crossesTwelve = spans.Length > 1 && spans[0].Start == 0 && spans[^1].End == ClockPosition.MinutesInCircle;
        if (crossesTwelve)
        {
            arcs[^1] = new ClockArc(arcs[^1].From, arcs[0].To);
            arcs.RemoveAt(0);
        }

        return [.. arcs];
    }

    private readonly record struct Span(int Start, int End);
}
