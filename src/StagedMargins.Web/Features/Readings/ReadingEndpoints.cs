using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.People;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Readings;

/// <summary>Readings and their signatures.</summary>
public static class ReadingEndpoints
{
    private const int MostSignatures = 500;

    /// <summary>Adds the routes.</summary>
    public static void MapReadings(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}").WithTags("Readings").RequireAuthorization(Policies.RecordCase);
        group.MapPost("/stages/{n:int}/blocks/{label}/readings", RecordAsync)
            .WithSummary("Records a reading of a block, or an amendment of the reading that counts.").Produces<ReadingView>(StatusCodes.Status201Created);
        group.MapPost("/stages/{n:int}/blocks/{label}/readings/rehearsal", PreviewAsync)
            .WithSummary("What a reading would say and change; writes nothing.").Produces<ReadingPreviewView>();
        group.MapPost("/stages/{n:int}/blocks/{label}/readings/{readingId:guid}/countersign", CountersignAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("Countersigns a reading that someone else wrote down for the reader.").Produces<ReadingView>();
        group.MapPost("/countersignatures", CountersignAllAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("Signs several readings, all or none.").Produces<ReadingView[]>();
        group.MapPost("/readings/{readingId:guid}/countersign", CountersignAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("The same, by the reading's id alone.").Produces<ReadingView>();
    }

    private static Task<IResult> RecordAsync(
        Guid id, int n, string label, ReadingBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        GuardRole(body, person);
        return writes.ChangeAsync(
            id,
            person,
            body,
            change =>
            {
                GuardAmendment(body, change, person);
                return new WriteResult(StatusCodes.Status201Created, ReadingView.Of(body.Record(change, n, label), change), $"/api/cases/{id}/stages/{n}");
            },
            cancel);
    }

    private static async Task<IResult> PreviewAsync(
        Guid id, int n, string label, ReadingBody body, CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        GuardRole(body, person);
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var change = new Change(new CaseLog(found), clinic, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel), person.Id, clinic.Now(clock));
        GuardAmendment(body, change, person);
        var view = ReadingView.Of(body.Record(change, n, label), change);
        return Results.Ok(new ReadingPreviewView(view.Sentence, view, MarginsView.Of(change.Case.Margins(clinic.Overlap), change.Case, change.Case.Stages)));
    }

    private static void GuardRole(ReadingBody body, CurrentPerson person)
    {
        if (body.ReaderEmail is null && (person.IsApiToken || !person.Is(Roles.Surgeon)))
        {
            throw new InvalidEntryException("readerEmail", "Name the surgeon who read the slide.");
        }
    }

    private static void GuardAmendment(ReadingBody body, Change change, CurrentPerson person)
    {
        if (body.Amends is { } amended && !person.Is(Roles.Surgeon)
            && (change.Case.FindReading(amended) is not { } reading || !CorrectionRights.MayAmend(reading, person.Id, isSurgeon: false)))
        {
            throw new NotYourRoleException("Only a surgeon can amend this reading: someone else wrote it down, or it is signed.");
        }
    }

    private static Task<IResult> CountersignAsync(
        Guid id, Guid readingId, CountersignBody? body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var takesOver = body?.TakesOver ?? false;
        return writes.ChangeAsync(
            id,
            person,
            new { readingId, takesOver },
            change => new WriteResult(StatusCodes.Status200OK, ReadingView.Of(change.Log.Countersign(readingId, change.ById, change.At, takesOver), change)),
            cancel);
    }

    private static Task<IResult> CountersignAllAsync(Guid id, CountersignaturesBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        if (body.ReadingIds is not { Length: > 0 and <= MostSignatures } ids || ids.Distinct().Count() != ids.Length)
        {
            throw new InvalidEntryException("readingIds", $"Required: 1 to {MostSignatures} readings, each once.");
        }

        return writes.ChangeAsync(
            id,
            person,
            body,
            change =>
            {
                if (ids.Where(one => change.Case.FindReading(one) is { } reading && change.Case.PlaceOf(one).Block.CountingReading != reading).ToList() is { Count: > 0 } former)
                {
                    throw new RuleViolationException("amended", $"Nothing was signed. These readings no longer count: {string.Join(", ", former)}. Look at those that do, and sign again.");
                }

                return new WriteResult(StatusCodes.Status200OK, ids.Select(one => ReadingView.Of(change.Log.Countersign(one, change.ById, change.At, body.TakesOver ?? false), change)).ToArray());
            },
            cancel);
    }
}
