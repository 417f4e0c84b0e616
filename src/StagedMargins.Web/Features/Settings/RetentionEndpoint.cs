using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Settings;

/// <summary>How long a clinic keeps what, in years; what is left out stays.</summary>
/// <param name="SlideYears">Slides.</param>
/// <param name="BlockYears">Blocks.</param>
/// <param name="RecordYears">The record.</param>
public sealed record RetentionBody(int? SlideYears, int? BlockYears, int? RecordYears)
{
    /// <summary>As the clinic has set it.</summary>
    public static RetentionBody Of(Retention retention) => new(retention.SlideYears, retention.BlockYears, retention.RecordYears);

    /// <summary>Sets what is named here.</summary>
    /// <exception cref="InvalidRequestException">A number of years is out of range.</exception>
    public void Set(Retention retention)
    {
        var errors = new FieldErrors();
        errors.Collect(null, () => Check("retention.slideYears", SlideYears));
        errors.Collect(null, () => Check("retention.blockYears", BlockYears));
        errors.Collect(null, () => Check("retention.recordYears", RecordYears));
        errors.ThrowIfAny();
        retention.SlideYears = SlideYears ?? retention.SlideYears;
        retention.BlockYears = BlockYears ?? retention.BlockYears;
        retention.RecordYears = RecordYears ?? retention.RecordYears;
    }

    private static int? Check(string field, int? years) => years is null or (>= Retention.Fewest and <= Retention.Most)
        ? years
        : throw new InvalidEntryException(field, $"{Retention.Fewest} to {Retention.Most} years.");
}

/// <summary>What is past the time that the clinic keeps it.</summary>
/// <param name="Years">The clinic's setting.</param>
/// <param name="Before">Cases that ended, and were last changed, before this moment.</param>
/// <param name="Count">How many there are.</param>
/// <param name="CaseNumbers">Their numbers, oldest first; the first thousand.</param>
public sealed record PastRetentionView(int Years, DateTimeOffset Before, int Count, string[] CaseNumbers);

/// <summary>What is past its time. Nothing is deleted: the clinic decides.</summary>
/// <param name="Slides">Slides.</param>
/// <param name="Blocks">Blocks.</param>
/// <param name="Records">Records.</param>
public sealed record RetentionView(PastRetentionView Slides, PastRetentionView Blocks, PastRetentionView Records);

/// <summary>Warns of what is past the time that the clinic keeps it; it never deletes.</summary>
public static class RetentionEndpoint
{
    private const int MostNumbers = 1000;

    /// <summary>Adds the route.</summary>
    public static void MapRetention(this IEndpointRouteBuilder routes) => routes
        .MapGet("/api/clinic/retention", GetAsync).RequireAuthorization(Policies.SeeRetention).WithTags("People and settings")
        .WithSummary("Ended cases whose slides, blocks or record are past the clinic's retention. Nothing is deleted.").Produces<RetentionView>();

    private static async Task<IResult> GetAsync(CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var (kept, now) = (clinic.Retention, clinic.Now(clock).ToDateTimeOffset());
        return Results.Ok(new RetentionView(
            await PastAsync(db, kept.SlideYears, now, cancel),
            await PastAsync(db, kept.BlockYears, now, cancel),
            await PastAsync(db, kept.RecordYears, now, cancel)));
    }

    // A reading amended after the end is an examination too, so the time counts from the last change.
    private static async Task<PastRetentionView> PastAsync(ClinicContext db, int years, DateTimeOffset now, CancellationToken cancel)
    {
        var before = now.AddYears(-years);
        var utc = before.UtcDateTime;
        var past = db.Cases.Where(c => c.EndedUtc < utc && c.ChangedUtc < utc);
        var numbers = await past.OrderBy(c => c.EndedUtc).ThenBy(c => c.CaseNumber).Select(c => c.CaseNumber).Take(MostNumbers).ToArrayAsync(cancel);
        return new PastRetentionView(years, before, numbers.Length < MostNumbers ? numbers.Length : await past.CountAsync(cancel), numbers);
    }
}
