namespace StagedMargins.Core.Tests;

public sealed class ClinicalTimeTests
{
    [Fact]
    public void Instant_and_offset_are_both_kept()
    {
        var said = new DateTimeOffset(2026, 3, 3, 9, 10, 0, TimeSpan.FromHours(-5));
        var time = ClinicalTime.From(said);
        (time.Utc, time.OffsetMinutes).ShouldBe((new DateTime(2026, 3, 3, 14, 10, 0, DateTimeKind.Utc), (short)-300));
        time.ToDateTimeOffset().ShouldBe(said);
        time.ToDateTimeOffset().Offset.ShouldBe(said.Offset);
    }

    [Fact]
    public void The_same_instant_said_elsewhere_is_another_time_at_the_same_moment()
    {
        var (here, there) = (At(9, -5), At(14, 0));
        here.ShouldNotBe(there);
        here.Utc.ShouldBe(there.Utc);
    }

    [Fact]
    public void Time_is_kept_to_the_microsecond()
    {
        var said = new DateTimeOffset(2026, 3, 3, 9, 10, 0, TimeSpan.Zero).AddTicks(12_345_678);
        ClinicalTime.From(said).ToDateTimeOffset().ShouldBe(said.AddTicks(-8));
    }

    [Theory]
    [InlineData(1899, 12, 31)]
    [InlineData(2200, 1, 1)]
    public void A_year_that_is_a_slip_of_the_pen_is_refused(int year, int month, int day) =>
        Refusal.OfEntry("time", () => ClinicalTime.From(new DateTimeOffset(year, month, day, 12, 0, 0, TimeSpan.Zero)));

    [Theory]
    [InlineData(1900)]
    [InlineData(2199)]
    public void The_first_and_last_year_are_taken(int year) =>
        ClinicalTime.From(new DateTimeOffset(year, 6, 1, 12, 0, 0, TimeSpan.Zero)).Utc.Year.ShouldBe(year);

    private static ClinicalTime At(int hour, int offset) =>
        ClinicalTime.From(new DateTimeOffset(2026, 3, 3, hour, 0, 0, TimeSpan.FromHours(offset)));
}
