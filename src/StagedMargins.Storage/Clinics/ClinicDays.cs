namespace StagedMargins.Storage.Clinics;

/// <summary>Days of a clinic, by its own clock.</summary>
public static class ClinicDays
{
    /// <summary>The instant, UTC, at which a day begins in the clinic's time zone.</summary>
    /// <param name="clinic">The clinic.</param>
    /// <param name="day">The day.</param>
    public static DateTime StartOf(this Clinic clinic, DateOnly day)
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById(clinic.TimeZone);
        var first = day.ToDateTime(TimeOnly.MinValue);

        // Where clocks go forward at midnight the day begins later; where they go back over it, midnight comes twice and the first counts.
        while (zone.IsInvalidTime(first))
        {
            first = first.AddMinutes(1);
        }

        var offset = zone.IsAmbiguousTime(first) ? zone.GetAmbiguousTimeOffsets(first).Max() : zone.GetUtcOffset(first);
        return DateTime.SpecifyKind(first - offset, DateTimeKind.Utc);
    }

    /// <summary>The day, by the clinic's clock, of an instant.</summary>
    /// <param name="clinic">The clinic.</param>
    /// <param name="utc">The instant, UTC.</param>
    public static DateOnly DayOf(this Clinic clinic, DateTime utc) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), TimeZoneInfo.FindSystemTimeZoneById(clinic.TimeZone)));
}
