namespace StagedMargins.Core;

/// <summary>
/// When something happened, as the clinic's clock showed it: the instant in UTC and the offset it was written with, both kept,
/// so that times sort and subtract by instant and are shown as they were said.
/// </summary>
/// <param name="Utc">The instant, UTC.</param>
/// <param name="OffsetMinutes">Minutes that the clinic's clock was ahead of UTC; negative behind.</param>
public readonly record struct ClinicalTime(DateTime Utc, short OffsetMinutes)
{
    /// <summary>The instant with its offset.</summary>
    public DateTimeOffset ToDateTimeOffset() =>
        new DateTimeOffset(DateTime.SpecifyKind(Utc, DateTimeKind.Utc)).ToOffset(TimeSpan.FromMinutes(OffsetMinutes));

    /// <summary>Keeps an instant and its offset, to the microsecond (what every database here holds).</summary>
    /// <param name="time">The instant, with the offset it was written with.</param>
    /// <param name="field">The field's name in the API.</param>
    /// <exception cref="InvalidEntryException">A year outside 1900 to 2199.</exception>
    public static ClinicalTime From(DateTimeOffset time, string field = "time")
    {
        if (time.UtcDateTime.Year is < 1900 or > 2199)
        {
            throw new InvalidEntryException(field, "A time must be in the years 1900 to 2199.");
        }

        var utc = time.UtcDateTime;
        return new ClinicalTime(utc.AddTicks(-(utc.Ticks % TimeSpan.TicksPerMicrosecond)), (short)time.Offset.TotalMinutes);
    }
}
