using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.FollowUp;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.FollowUp;
using StagedMargins.Storage;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.FollowUp;

/// <summary>Which cases a curve takes.</summary>
/// <param name="From">Ended on this day or later, in the clinic's time zone.</param>
/// <param name="To">Ended on this day or earlier.</param>
/// <param name="Width">Width of the picture, pixels.</param>
public sealed record RecurrenceQuery(string? From, string? To, int? Width);

/// <summary>The share free of recurrence as it is sent.</summary>
/// <param name="Cases">Cases that were closed as cleared and have a visit since.</param>
/// <param name="Recurrences">How many came back.</param>
/// <param name="WithoutVisit">Cases that were closed as cleared and have no visit yet; the curve knows nothing of them.</param>
/// <param name="LongestDays">The longest time anyone was followed, days.</param>
/// <param name="SmallGroup">True below 10 cases.</param>
/// <param name="Steps">The steps of the curve; none before the first recurrence.</param>
public sealed record RecurrenceView(int Cases, int Recurrences, int WithoutVisit, int LongestDays, bool SmallGroup, IReadOnlyList<RecurrenceStep> Steps);

/// <summary>The share of cleared cases that stayed free of recurrence.</summary>
public static class RecurrenceEndpoints
{
    private const int UsualWidth = 1200;
    private const string Png = "image/png";

    /// <summary>Adds the routes.</summary>
    public static void MapRecurrence(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/api/follow-up").WithTags("Follow-up").RequireAuthorization(Policies.SeeFollowUp);
        group.MapGet("/recurrence", FiguresAsync)
            .WithSummary("The share free of recurrence (product-limit estimate) with Greenwood's 95 % limits: a surgeon's own cases, or the clinic's for a manager.").Produces<RecurrenceView>();
        group.MapGet("/recurrence.png", PictureAsync).WithSummary("The same as a picture.").Produces<byte[]>(contentType: Png);
    }

    private static async Task<IResult> FiguresAsync([AsParameters] RecurrenceQuery query, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var (curve, without) = await CurveAsync(query, person, db, cancel);
        return Results.Ok(new RecurrenceView(curve.Cases, curve.Recurrences, without, curve.LongestDays, curve.Cases < RecurrenceCurve.SmallBelow, curve.Steps));
    }

    private static async Task<IResult> PictureAsync([AsParameters] RecurrenceQuery query, CurrentPerson person, ClinicContext db, CancellationToken cancel) =>
        Results.Bytes(RecurrencePicture.ToPng((await CurveAsync(query, person, db, cancel)).Curve, query.Width ?? UsualWidth), Png);

    /// <summary>The curve that someone may see, and how many cleared cases have no visit yet.</summary>
    public static async Task<(RecurrenceCurve Curve, int WithoutVisit)> CurveAsync(RecurrenceQuery query, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var clinic = await db.AllowLongReads().Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var cases = db.Cases.AsNoTracking().Where(c => c.Outcome == CaseOutcome.Cleared);
        if (person.FiguresLimitedTo is { } own)
        {
            cases = cases.Where(c => c.SurgeonId == own);
        }

        if (DayFields.Start("from", query.From, clinic, plusDays: 0) is { } from)
        {
            cases = cases.Where(c => c.EndedUtc >= from);
        }

        if (DayFields.Start("to", query.To, clinic, plusDays: 1) is { } to)
        {
            cases = cases.Where(c => c.EndedUtc < to);
        }

        var cleared = await cases.Select(c => new { c.FollowedDays, c.Recurrence }).ToListAsync(cancel);
        var followed = cleared.Where(c => c.FollowedDays is not null).Select(c => new FollowedCase(c.FollowedDays!.Value, c.Recurrence)).ToList();
        return (RecurrenceCurve.Of(followed), cleared.Count - followed.Count);
    }
}
