namespace StagedMargins.Core.Tests;

public sealed class LengthTests
{
    [Theory]
    [InlineData(0.001, 1)]
    [InlineData(0.0005, 1)]
    [InlineData(2.5, 2_500)]
    [InlineData(2.0004, 2_000)]
    [InlineData(300, 300_000)]
    public void Millimetres_are_kept_as_whole_micrometres(double millimetres, int micrometres) =>
        Length.FromMillimetres((decimal)millimetres).Micrometres.ShouldBe(micrometres);

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(0.0004)]
    [InlineData(300.001)]
    public void Nothing_and_more_than_300_mm_is_refused(double millimetres) =>
        Refusal.OfEntry("length", () => Length.FromMillimetres((decimal)millimetres)).Message.ShouldContain("300 mm");

    [Fact]
    public void The_largest_and_smallest_decimals_are_refused_too()
    {
        Refusal.OfEntry("length", () => Length.FromMillimetres(decimal.MaxValue));
        Refusal.OfEntry("length", () => Length.FromMillimetres(decimal.MinValue));
        Refusal.OfEntry("length", () => _ = new Length(0));
        Refusal.OfEntry("length", () => _ = new Length(300_001));
    }

    [Fact]
    public void Lengths_are_compared_exactly()
    {
        var (shorter, longer) = (Some.Mm(1.999m), Some.Mm(2));
        bool[] holds = [shorter < longer, longer > shorter, shorter <= longer, longer >= shorter, longer >= Some.Mm(2), longer <= Some.Mm(2)];
        bool[] fails = [longer < shorter, shorter > longer, longer <= shorter, shorter >= longer];
        holds.ShouldAllBe(held => held);
        fails.ShouldAllBe(held => !held);
        Some.Mm(2.000m).ShouldBe(longer);
        longer.CompareTo(null).ShouldBePositive();
        (longer.Millimetres, longer.ToString(), shorter.ToString()).ShouldBe((2.0, "2 mm", "1.999 mm"));
    }
}
