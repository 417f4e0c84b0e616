using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Evidence;

/// <summary>Second reads of blocks by a reader who does not know the first.</summary>
public static class SecondReadEndpoints
{
    /// <summary>Adds the routes of a case.</summary>
    public static void MapSecondReads(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}").WithTags("Second reads").RequireAuthorization(Policies.Surgeon);
        group.MapPost("/stages/{n:int}/blocks/{label}/second-reads", AskAsync)
            .WithSummary("Asks another surgeon to read a block blind; until they have, they can't open the case.").Produces<SecondReadView>(StatusCodes.Status201Created);
        group.MapPost("/second-reads/{number:int}/answer", AnswerAsync).WithMetadata(new OpenToBlindReader())
            .WithSummary("Enters a second read; it can't be changed afterwards.").Produces<SecondReadView>();
        group.MapPost("/second-reads/{number:int}/give-back", GiveBackAsync).WithMetadata(new OpenToBlindReader())
            .WithSummary("Hands a second read back unread.").Produces<SecondReadView>();
    }

    /// <summary>Adds the route to one's own tasks.</summary>
    public static void MapSecondReadTasks(this IEndpointRouteBuilder routes) => routes
        .MapGet("/api/second-reads", TasksAsync).RequireAuthorization(Policies.Surgeon).WithTags("Second reads")
        .WithSummary("Blocks waiting for the caller's second read.").Produces<SecondReadTask[]>();

    private static async Task<IResult> AskAsync(
        Guid id, int n, string label, SecondReadBody body, CurrentPerson person, ClinicContext db, CaseWriter writes, CancellationToken cancel)
    {
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var reader = people.SurgeonOf("readerEmail", body.ReaderEmail ?? throw new InvalidEntryException("readerEmail", "Required."));
        if (await db.AccessLog.AnyAsync(opened => opened.CaseId == id && opened.ById == reader, cancel))
        {
            throw new RuleViolationException("notBlind", "This surgeon has already opened the case, so the read would not be blind. Ask another surgeon.");
        }

        return await writes.ChangeAsync(
            id,
            person,
            body,
            change =>
            {
                var asked = change.Log.AskSecondRead(n, label, reader, change.ById, change.At);
                return new WriteResult(StatusCodes.Status201Created, SecondReadView.Of(change.Case, asked, change.People), $"/api/cases/{id}");
            },
            cancel);
    }

    private static Task<IResult> AnswerAsync(Guid id, int number, SecondReadAnswerBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var outcome = body.Outcome ?? throw new InvalidEntryException("outcome", $"Required, one of: {string.Join(", ", EnumNames<ReadingOutcome>.All)}.");
        return SayAsync(id, new SecondReadSubmitted(number, outcome, body.Note, body.Findings), person, writes, cancel);
    }

    private static Task<IResult> GiveBackAsync(Guid id, int number, GiveBackBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) =>
        SayAsync(id, new SecondReadSubmitted(number, null, body.Reason), person, writes, cancel);

    private static Task<IResult> SayAsync(Guid id, SecondReadSubmitted said, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        said,
        change =>
        {
            var read = said.Record(change);
            return new WriteResult(StatusCodes.Status200OK, SecondReadView.Of(change.Case, read, change.People));
        },
        cancel);

    private static async Task<IResult> TasksAsync(CurrentPerson person, ClinicContext db, CancellationToken cancel) =>
        Results.Ok(await OwnTasksAsync(db, person.Id, cancel));

    /// <summary>Blocks that wait for someone to read them blind, longest first.</summary>
    public static async Task<SecondReadTask[]> OwnTasksAsync(ClinicContext db, Guid readerId, CancellationToken cancel)
    {
        var waiting = await db.SecondReads.AsNoTracking().Where(read => read.ReaderId == readerId && !read.IsAnswered).OrderBy(read => read.AskedAt.Utc).ToListAsync(cancel);
        var cases = (await db.LoadCasesAsync([.. waiting.Select(read => read.CaseId).Distinct()], cancel)).Readable.ToDictionary(c => c.Id);
        return [.. waiting.Where(read => cases.ContainsKey(read.CaseId)).Select(read => TaskOf(read, cases[read.CaseId]))];
    }

    private static SecondReadTask TaskOf(SecondReadRow read, SurgicalCase surgicalCase)
    {
        var block = surgicalCase.StageOf(read.StageNumber).BlockOf(read.BlockLabel);
        return new SecondReadTask(
            surgicalCase.Id, surgicalCase.CaseNumber, read.Number, read.StageNumber, block.Label, ArcBody.Of(block.Arc), block.Centre, block.FromInk, block.ToInk, read.AskedAt.ToDateTimeOffset());
    }
}
