using System.Collections;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace StagedMargins.Core.ClockFace;

/// <summary>
/// A set of places on the clock face: one bit for each of its 720 clock minutes, so that union, intersection, difference and
/// complement are exact and allocate nothing. It enumerates as arcs in one canonical form: sorted by where they begin, disjoint,
/// merged where they touch, an arc over 12 o'clock in one part and the whole circle as 12:00–12:00. The default value is empty.
/// </summary>
public readonly struct ArcSet : IReadOnlyCollection<ClockArc>, IEquatable<ArcSet>
{
    private const int BitsInWord = 64;
    private const int WordCount = 12;

    // 720 bits fill eleven words and a quarter; the rest of the twelfth stays 0.
    private const ulong LastWord = (1UL << (ClockPosition.MinutesInCircle % BitsInWord)) - 1;

    private readonly Words words;

    private ArcSet(in Words words)
    {
        this.words = words;
    }

    /// <summary>No place at all.</summary>
    public static ArcSet Empty => default;

    /// <summary>The whole circle.</summary>
    public static ArcSet Full { get; } = Empty.Complement();

    /// <summary>Length of all arcs together in clock minutes, 0 to 720.</summary>
    public int Minutes
    {
        get
        {
            var minutes = 0;
            for (var i = 0; i < WordCount; i++)
            {
                minutes += BitOperations.PopCount(words[i]);
            }

            return minutes;
        }
    }

    /// <summary>True where the set holds no place.</summary>
    public bool IsEmpty => FirstFrom(0, present: true) == ClockPosition.MinutesInCircle;

    /// <summary>True where the set is the whole circle.</summary>
    public bool IsFull => FirstFrom(0, present: false) == ClockPosition.MinutesInCircle;

    /// <summary>Number of arcs in the canonical form.</summary>
    public int Count
    {
        get
        {
            var count = 0;
            foreach (var _ in this)
            {
                count++;
            }

            return count;
        }
    }

    /// <summary>The union of any arcs, in any order, overlapping or not.</summary>
    public static ArcSet Of(params IEnumerable<ClockArc> arcs)
    {
        var builder = default(Builder);
        foreach (var arc in arcs)
        {
            builder.Add(arc);
        }

        return builder.Build();
    }

    /// <summary>The places of one arc.</summary>
    public static ArcSet Of(ClockArc arc)
    {
        var builder = default(Builder);
        builder.Add(arc);
        return builder.Build();
    }

    /// <summary>Places in this set or the other.</summary>
    public ArcSet Union(in ArcSet other)
    {
        var result = default(Words);
        for (var i = 0; i < WordCount; i += Vector256<ulong>.Count)
        {
            (At(words, i) | At(other.words, i)).StoreUnsafe(ref result[0], (nuint)i);
        }

        return new ArcSet(result);
    }

    /// <summary>Places in both sets.</summary>
    public ArcSet Intersect(in ArcSet other)
    {
        var result = default(Words);
        for (var i = 0; i < WordCount; i += Vector256<ulong>.Count)
        {
            (At(words, i) & At(other.words, i)).StoreUnsafe(ref result[0], (nuint)i);
        }

        return new ArcSet(result);
    }

    /// <summary>Places in this set and not in the other.</summary>
    public ArcSet Except(in ArcSet other)
    {
        var result = default(Words);
        for (var i = 0; i < WordCount; i += Vector256<ulong>.Count)
        {
            Vector256.AndNot(At(words, i), At(other.words, i)).StoreUnsafe(ref result[0], (nuint)i);
        }

        return new ArcSet(result);
    }

    /// <summary>Places in none of the arcs.</summary>
    public ArcSet Complement()
    {
        var result = words;
        for (var i = 0; i < WordCount; i++)
        {
            result[i] = ~result[i];
        }

        result[WordCount - 1] &= LastWord;
        return new ArcSet(result);
    }

    /// <summary>Each arc made longer on both sides.</summary>
    /// <param name="minutes">Clock minutes on each side, 0 or more.</param>
    /// <exception cref="InvalidEntryException">A negative number of minutes.</exception>
    public ArcSet Widen(int minutes)
    {
        if (minutes < 0)
        {
            throw new InvalidEntryException("minutes", "An arc set is widened by 0 clock minutes or more.");
        }

        var result = words;
        foreach (var arc in this)
        {
            if (arc.Minutes + (2L * minutes) >= ClockPosition.MinutesInCircle)
            {
                return Full;
            }

            Fill(ref result, new ClockArc(arc.From.Plus(-minutes), arc.To.Plus(minutes)));
        }

        return new ArcSet(result);
    }

    /// <summary>True where a position lies in the set.</summary>
    public bool Contains(ClockPosition position) => Has(position.Minutes);

    /// <summary>True where every place of the other set lies in this one.</summary>
    public bool Contains(in ArcSet other) => other.Except(this).IsEmpty;

    /// <inheritdoc/>
    public bool Equals(ArcSet other) => ((ReadOnlySpan<ulong>)words).SequenceEqual(other.words);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is ArcSet other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = default(HashCode);
        for (var i = 0; i < WordCount; i++)
        {
            hash.Add(words[i]);
        }

        return hash.ToHashCode();
    }

    /// <summary>The arcs of the canonical form, without allocation.</summary>
    public Enumerator GetEnumerator() => new(this);

    IEnumerator<ClockArc> IEnumerable<ClockArc>.GetEnumerator() => GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <summary>The arcs in the text form of the API, for example <c>07:30–09:00, 11:00–01:00</c>; <c>none</c> where empty, <c>whole circle</c> where full.</summary>
    public override string ToString() => IsEmpty ? "none" : IsFull ? "whole circle" : string.Join(", ", this);

    /// <summary>The same places.</summary>
    public static bool operator ==(in ArcSet left, in ArcSet right) => left.Equals(right);

    /// <summary>Different places.</summary>
    public static bool operator !=(in ArcSet left, in ArcSet right) => !left.Equals(right);

    // Four words from one on; twelve are three times four.
    private static Vector256<ulong> At(in Words words, int first) => Vector256.LoadUnsafe(in words[0], (nuint)first);

    private bool Has(int minute) => (words[minute / BitsInWord] >> (minute % BitsInWord) & 1) != 0;

    // The first minute at or after one that is in the set, or not in it; 720 where there is none before 12 o'clock comes again.
    private int FirstFrom(int minute, bool present)
    {
        for (var i = minute / BitsInWord; i < WordCount; i++)
        {
            var word = present ? words[i] : ~words[i];
            if (i == minute / BitsInWord)
            {
                word &= ulong.MaxValue << (minute % BitsInWord);
            }

            if (word != 0)
            {
                return Math.Min((i * BitsInWord) + BitOperations.TrailingZeroCount(word), ClockPosition.MinutesInCircle);
            }
        }

        return ClockPosition.MinutesInCircle;
    }

    private static void Fill(ref Words words, ClockArc arc)
    {
        var (from, to) = (arc.From.Minutes, arc.To.Minutes);
        if (from < to)
        {
            Fill(ref words, (uint)from, (uint)to - 1);
            return;
        }

        Fill(ref words, (uint)from, ClockPosition.MinutesInCircle - 1);
        if (to > 0)
        {
            Fill(ref words, 0, (uint)to - 1);
        }
    }

    // Both minutes are inclusive.
    private static void Fill(ref Words words, uint first, uint last)
    {
        var (firstWord, lastWord) = (first / BitsInWord, last / BitsInWord);
        var (head, tail) = (ulong.MaxValue << (int)(first % BitsInWord), ulong.MaxValue >> (int)(BitsInWord - 1 - (last % BitsInWord)));
        if (firstWord == lastWord)
        {
            words[(int)firstWord] |= head & tail;
            return;
        }

        words[(int)firstWord] |= head;
        for (var i = firstWord + 1; i < lastWord; i++)
        {
            words[(int)i] = ulong.MaxValue;
        }

        words[(int)lastWord] |= tail;
    }

    /// <summary>Gathers many arcs into one set, without a set for each.</summary>
    public struct Builder
    {
        private Words words;

        /// <summary>Adds the places of an arc.</summary>
        public void Add(ClockArc arc) => Fill(ref words, arc);

        /// <summary>The places of all arcs together.</summary>
        public readonly ArcSet Build() => new(words);
    }

    [InlineArray(WordCount)]
    private struct Words
    {
        private ulong first;
    }

    /// <summary>Goes through the arcs of a set in canonical order.</summary>
    public struct Enumerator : IEnumerator<ClockArc>
    {
        private readonly ArcSet set;
        private readonly int overTwelve;
        private int next;

        internal Enumerator(in ArcSet set)
        {
            this.set = set;
            // What lies on both sides of 12 o'clock is one arc, told where it begins; only the whole circle begins at 12 o'clock.
            overTwelve = set.Has(0) && set.Has(ClockPosition.MinutesInCircle - 1) && !set.IsFull ? set.FirstFrom(0, present: false) : 0;
            next = overTwelve;
        }

        /// <inheritdoc/>
        public ClockArc Current { get; private set; }

        readonly object IEnumerator.Current => Current;

        /// <inheritdoc/>
        public bool MoveNext()
        {
            var start = next < ClockPosition.MinutesInCircle ? set.FirstFrom(next, present: true) : ClockPosition.MinutesInCircle;
            if (start == ClockPosition.MinutesInCircle)
            {
                return false;
            }

            next = set.FirstFrom(start, present: false);
            var reached = next == ClockPosition.MinutesInCircle ? next + overTwelve : next;
            Current = ClockArc.Starting(new ClockPosition(start), reached - start);
            return true;
        }

        /// <inheritdoc/>
        public void Reset() => next = overTwelve;

        /// <inheritdoc/>
        public readonly void Dispose()
        {
        }
    }
}
