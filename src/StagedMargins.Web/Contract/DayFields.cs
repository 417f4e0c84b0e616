using System.Globalization;
using StagedMargins.Core;
using StagedMargins.Storage.Clinics;

namespace StagedMargins.Web.Contract;

/// <summary>Days and months of a query.</summary>
internal static class DayFields
{
    private const string DayForm = "yyyy-MM-dd";
    private const string MonthForm = "yyyy-MM";
    private const int FirstYear = 1900;
    private const int LastYear = 2199;

    /// <summary>The day a text stands for.</summary>
    internal static bool TryDay(string? text, out DateOnly day) => TryParse(text, DayForm, out day);

    /// <summary>The first day of the month a text stands for.</summary>
    internal static bool TryMonth(string? text, out DateOnly first) => TryParse(text, MonthForm, out first);

    /// <summary>The first day of a month.</summary>
    /// <param name="text">The month, <c>yyyy-MM</c>.</param>
    /// <exception cref="InvalidEntryException">It is not a month.</exception>
    internal static DateOnly FirstOfMonth(string? text) => TryMonth(text, out var first)
        ? first
        : throw new InvalidEntryException("month", "A month, for example 2026-03.");

    /// <summary>The month of a day, <c>yyyy-MM</c>.</summary>
    internal static string MonthOf(DateOnly day) => day.ToString(MonthForm, CultureInfo.InvariantCulture);

    /// <summary>The moment at which a day starts by the clinic's clock, UTC; null where none is given.</summary>
    /// <param name="field">The field, for the refusal.</param>
    /// <param name="text">The day, <c>yyyy-MM-dd</c>.</param>
    /// <param name="clinic">The clinic.</param>
    /// <param name="plusDays">Days to add first: 1 for the end of a day that is included.</param>
    /// <exception cref="InvalidEntryException">It is not a day.</exception>
    internal static DateTime? Start(string field, string? text, Clinic clinic, int plusDays) => text switch
    {
        null or "" => null,
        _ when TryDay(text, out var day) => clinic.StartOf(day.AddDays(plusDays)),
        _ => throw new InvalidEntryException(field, "A day, for example 2026-03-03."),
    };

    private static bool TryParse(string? text, string form, out DateOnly day) =>
        DateOnly.TryParseExact(text, form, CultureInfo.InvariantCulture, DateTimeStyles.None, out day) && day.Year is >= FirstYear and <= LastYear;
}
