namespace StagedMargins.Web.Tests.Testing;

/// <summary>A clock that stands until a test moves it on.</summary>
/// <param name="now">What it says first.</param>
public sealed class SetClock(DateTimeOffset now) : TimeProvider
{
    private DateTimeOffset now = now;

    public override DateTimeOffset GetUtcNow() => now;

    /// <summary>Moves it on.</summary>
    /// <param name="by">By how much.</param>
    public void Advance(TimeSpan by) => now += by;
}
