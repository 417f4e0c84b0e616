using CsCheck;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Tests.ClockFace;

/// <summary>Every operation on arc sets against 720 cells that are painted one by one.</summary>
public sealed class ArcSetProperties
{
    private const int Runs = 1_000;
    private static readonly int[] CutOrder = [.. Enumerable.Range(0, 60)];

    // Hours beside odd minutes, so that arcs often touch, meet at 12 o'clock or make up the whole circle.
    private static readonly Gen<int> Place = Gen.OneOf(Gen.Int[0, 719], Gen.Int[0, 11].Select(hour => hour * 60));
    private static readonly Gen<int> Minutes = Gen.OneOf(Gen.Int[1, 720], Gen.Int[1, 90], Gen.Int[1, 12].Select(hour => hour * 60));
    private static readonly Gen<(int From, int Minutes)[]> AnyArcs = Gen.Select(Place, Minutes).Array[0, 6];

    [Fact]
    public void A_set_is_the_union_of_its_arcs_in_canonical_form() => AnyArcs.Sample(
        arcs => ShouldBe(Set(arcs), CellCircle.Paint(arcs)),
        iter: Runs);

    [Fact]
    public void Union_intersection_and_difference_agree_place_by_place() => Gen.Select(AnyArcs, AnyArcs).Sample(
        (left, right) =>
        {
            var (a, b, p, q) = (Set(left), Set(right), CellCircle.Paint(left), CellCircle.Paint(right));
            ShouldBe(a.Union(b), [.. p.Zip(q, (x, y) => x || y)]);
            ShouldBe(a.Intersect(b), [.. p.Zip(q, (x, y) => x && y)]);
            ShouldBe(a.Except(b), [.. p.Zip(q, (x, y) => x && !y)]);
            a.Contains(b).ShouldBe(p.Zip(q).All(cell => cell.First || !cell.Second));
        },
        iter: Runs);

    [Fact]
    public void The_complement_is_every_other_place() => AnyArcs.Sample(
        arcs =>
        {
            ShouldBe(Set(arcs).Complement(), [.. CellCircle.Paint(arcs).Select(cell => !cell)]);
            Set(arcs).Complement().Complement().ShouldBe(Set(arcs));
        },
        iter: Runs);

    [Fact]
    public void Widening_takes_every_place_within_reach() => Gen.Select(AnyArcs, Gen.Int[0, 400]).Sample(
        (arcs, minutes) => ShouldBe(Set(arcs).Widen(minutes), CellCircle.Widen(CellCircle.Paint(arcs), minutes)),
        iter: Runs);

    [Fact]
    public void Sets_of_the_same_places_are_equal_however_they_were_cut() => Gen.Select(AnyArcs, Gen.Int[1, 97], Gen.Shuffle(CutOrder)).Sample(
        (arcs, step, order) =>
        {
            var whole = Set(arcs);
            var cut = whole.SelectMany(arc => Cut(arc, step)).ToList();
            var again = ArcSet.Of(order.Where(i => i < cut.Count).Select(i => cut[i]).Concat(cut.Skip(CutOrder.Length)));
            again.ShouldBe(whole);
            again.Equals(whole).ShouldBeTrue();
            again.GetHashCode().ShouldBe(whole.GetHashCode());
        },
        iter: Runs);

    [Fact]
    public void Sets_of_different_places_are_not_equal() => Gen.Select(AnyArcs, Gen.Int[0, 719]).Sample(
        (arcs, place) =>
        {
            var set = Set(arcs);
            var minute = ArcSet.Of(ClockArc.Starting(new ClockPosition(place), 1));
            var other = set.Contains(minute) ? set.Except(minute) : set.Union(minute);
            other.Equals(set).ShouldBeFalse();
            Math.Abs(other.Minutes - set.Minutes).ShouldBe(1);
        },
        iter: Runs);

    private static ArcSet Set(IEnumerable<(int From, int Minutes)> arcs) =>
        ArcSet.Of(arcs.Select(arc => ClockArc.Starting(new ClockPosition(arc.From), arc.Minutes)));

    private static IEnumerable<ClockArc> Cut(ClockArc arc, int step)
    {
        for (var done = 0; done < arc.Minutes; done += step)
        {
            yield return ClockArc.Starting(arc.From.Plus(done), Math.Min(step, arc.Minutes - done));
        }
    }

    private static void ShouldBe(ArcSet set, bool[] cells)
    {
        set.Select(arc => (arc.From.Minutes, arc.Minutes)).ShouldBe(CellCircle.Runs(cells));
        set.Count.ShouldBe(CellCircle.Runs(cells).Count);
        set.Minutes.ShouldBe(cells.Count(cell => cell));
        set.IsEmpty.ShouldBe(cells.All(cell => !cell));
        set.IsFull.ShouldBe(cells.All(cell => cell));
        Enumerable.Range(0, CellCircle.Cells).Select(i => set.Contains(new ClockPosition(i))).ShouldBe(cells);
    }
}
