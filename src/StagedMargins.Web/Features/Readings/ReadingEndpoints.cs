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
            change => new WriteResult(StatusCodes.Status201Created, View(change, body.Record(change, n, label)), $"/api/cases/{id}/stages/{n}"),
            cancel);
    }

    private static async Task<IResult> PreviewAsync(
        Guid id, int n, string label, ReadingBody body, CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        GuardRole(body, person);
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var change = new Change(new CaseLog(found), clinic, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel), person.Id, clinic.Now(clock));
        var reading = body.Record(change, n, label);
        var view = View(change, reading);
        return Results.Ok(new ReadingPreviewView(view.Sentence, view, MarginsView.Of(change.Case.Margins(clinic.Overlap), change.Case, change.Case.Stages)));
    }

    private static void GuardRole(ReadingBody body, CurrentPerson person)
    {
        if (body.Amends is not null && !person.Is(Roles.Surgeon))
        {
            throw new NotYourRoleException("Only a surgeon can amend a reading.");
        }

        if (body.ReaderEmail is null && (person.IsApiToken || !person.Is(Roles.Surgeon)))
        {
            throw new InvalidEntryException("readerEmail", "Name the surgeon who read the slide.");
        }
    }

    private static Task<IResult> CountersignAsync(
        Guid id, Guid readingId, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        readingId,
        change => new WriteResult(StatusCodes.Status200OK, View(change, change.Log.Countersign(readingId, change.ById, change.At))),
        cancel);

    private static ReadingView View(Change change, Reading reading)
    {
        var (stage, block) = (from s in change.Case.Stages from b in s.Blocks where b.Readings.Contains(reading) select (s, b)).Single();
        return ReadingView.Of(reading, stage, block, change.People);
    }
}
