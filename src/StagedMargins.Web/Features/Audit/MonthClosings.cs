using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>A month whose figures were kept, and what has changed since.</summary>
/// <param name="Month">The month.</param>
/// <param name="ClosedAt">When it was closed.</param>
/// <param name="ClosedBy">By whom.</param>
/// <param name="Figures">The figures as they stood.</param>
/// <param name="ChangedSince">Figures that differ now.</param>
/// <param name="ChangedCases">Numbers of cases of the month, then or now, that were changed after the closing; the first thousand.</param>
public sealed record ClosingView(string Month, DateTimeOffset ClosedAt, string? ClosedBy, JsonElement Figures, IReadOnlyList<ChangedFigure> ChangedSince, IReadOnlyList<string> ChangedCases);

/// <summary>A figure that differs from the one that was kept.</summary>
/// <param name="Figure">Its name.</param>
/// <param name="Kept">As it was kept.</param>
/// <param name="Now">As it is now.</param>
public sealed record ChangedFigure(string Figure, JsonNode? Kept, JsonNode? Now);

/// <summary>Keeps the figures of months, and says what has changed since.</summary>
/// <param name="db">The record.</param>
/// <param name="audit">Works the figures out.</param>
/// <param name="clock">The clock.</param>
public sealed class MonthClosings(ClinicContext db, AuditService audit, TimeProvider clock)
{
    private const int MostNumbers = 1000;

    /// <summary>Keeps the figures of a month. A month that was closed stays as it was closed: asking again answers the same.</summary>
    /// <exception cref="RuleViolationException">The month is not over.</exception>
    public async Task<ClosingView> CloseAsync(AuditPeriod month, CurrentPerson person, CancellationToken cancel)
    {
        var clinic = await audit.ClinicAsync(person, cancel);
        var now = clinic.Now(clock);
        if (clinic.StartOf(month.To!.Value.AddDays(1)) > now.Utc)
        {
            throw new RuleViolationException("monthNotOver", "This month is not over yet by the clinic's clock; close it once it is.");
        }

        var figures = await audit.FiguresAsync(month, null, person, cancel);
        if (await FindAsync(month, figures, person, cancel) is { } closed)
        {
            return closed;
        }

        var counted = await month.Filter(db.AuditCases.AsNoTracking(), clinic).Select(c => c.CaseId).ToListAsync(cancel);
        db.Add(new MonthClosing
        {
            ClinicId = person.ClinicId,
            Month = DayFields.MonthOf(month.From!.Value),
            From = At(clinic.StartOf(month.From.Value)),
            To = At(clinic.StartOf(month.To.Value.AddDays(1))),
            ClosedAt = now,
            ClosedById = person.Id,
            Figures = Json(figures).ToJsonString(),
            Cases = string.Join(' ', counted),
        });
        try
        {
            await db.SaveChangesAsync(cancel);
        }
        catch (DbUpdateException e) when (DatabaseFaults.IsConflict(e))
        {
            // Two closed it at once, and the other was first.
            db.ChangeTracker.Clear();
        }

        return (await FindAsync(month, figures, person, cancel))!;

        ClinicalTime At(DateTime utc) => clinic.At(new DateTimeOffset(utc, TimeSpan.Zero));
    }

    /// <summary>How a month was closed and what differs now; null where it was not closed.</summary>
    /// <param name="month">The month.</param>
    /// <param name="figuresNow">The figures of the whole clinic now.</param>
    /// <param name="person">Who asks; a manager.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task<ClosingView?> FindAsync(AuditPeriod month, FiguresView figuresNow, CurrentPerson person, CancellationToken cancel)
    {
        var name = DayFields.MonthOf(month.From!.Value);
        if (await db.MonthClosings.AsNoTracking().SingleOrDefaultAsync(closing => closing.Month == name, cancel) is not { } kept)
        {
            return null;
        }

        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var after = kept.ClosedAt.Utc;

        // A case that was reopened since is not of the month any more, and one that was ended since for a day in it is.
        var counted = (kept.Cases ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Guid.Parse).ToArray();
        var now = (await audit.BoundedAsync(month, cancel)).Filter(db.AuditCases.AsNoTracking(), await audit.ClinicAsync(person, cancel));
        var changed = await db.Cases.AsNoTracking()
            .Where(row => row.ChangedUtc > after && (counted.Contains(row.CaseId) || now.Any(c => c.CaseId == row.CaseId)))
            .OrderBy(row => row.CaseNumber).Select(row => row.CaseNumber).Take(MostNumbers).ToListAsync(cancel);
        var figures = JsonNode.Parse(kept.Figures)!.AsObject();
        return new ClosingView(
            name, kept.ClosedAt.ToDateTimeOffset(), people.EmailOf(kept.ClosedById), JsonSerializer.SerializeToElement(figures), [.. Differences(figures, Json(figuresNow))], changed);
    }

    // A figure that was not yet counted when the month was closed has not changed.
    private static IEnumerable<ChangedFigure> Differences(JsonObject kept, JsonObject now) => kept.Select(figure => figure.Key).Where(now.ContainsKey)
        .Where(name => !JsonNode.DeepEquals(kept[name], now[name]))
        .Select(name => new ChangedFigure(name, kept[name]?.DeepClone(), now[name]?.DeepClone()));

    // Written and read again, so that a number compares as it was kept.
    private static JsonObject Json(FiguresView figures) =>
        JsonNode.Parse(JsonSerializer.Serialize<FiguresView>(figures, ApiJson.Options))!.AsObject();
}
