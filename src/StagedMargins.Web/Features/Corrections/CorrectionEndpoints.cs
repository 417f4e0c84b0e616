using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.People;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Corrections;

/// <summary>Corrections: further entries that put right what stands. Nothing is edited or deleted.</summary>
public static class CorrectionEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapCorrections(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}").WithTags("Corrections").RequireAuthorization(Policies.RecordCase);
        group.MapPost("/stages/{n:int}/correction", CorrectStageAsync)
            .WithSummary("Corrects pieces, blocks or the time of a stage. Readings of blocks that are no longer the same are withdrawn.").Produces<StageView>();
        group.MapPost("/stages/{n:int}/withdrawal", WithdrawStageAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("Withdraws the last stage: it was never taken.").Produces<CaseView>();
        group.MapPost("/readings/{readingId:guid}/withdrawal", WithdrawReadingAsync)
            .WithSummary("Withdraws the reading of a block that counts: none counts then.").Produces<ReadingView>();
        group.MapPost("/reopening", ReopenAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("Opens an ended case again, for the same wound.").Produces<CaseView>();
    }

    private static Task<IResult> CorrectStageAsync(Guid id, int n, StageCorrectionBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            var entry = body.ToEntry(change.Clinic);
            Guard(CorrectionRights.MayCorrect(change.Case.StageOf(n), person.Id, person.Is(Roles.Surgeon)), "Only a surgeon can correct this stage: someone else recorded it, or one of its readings is signed.");
            return new WriteResult(StatusCodes.Status200OK, StageView.Of(change.Log.CorrectStage(n, entry, change.ById, change.At), change.People));
        },
        cancel);

    private static Task<IResult> WithdrawStageAsync(Guid id, int n, ReasonBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            change.Log.WithdrawStage(n, body.Reason, change.ById, change.At);
            return Whole(change);
        },
        cancel);

    private static Task<IResult> WithdrawReadingAsync(Guid id, Guid readingId, ReasonBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            var reading = change.Case.FindReading(readingId) ?? throw new NotInRecordException("The case has no such reading.");
            Guard(CorrectionRights.MayWithdraw(reading, person.Id, person.Is(Roles.Surgeon)), "Only a surgeon can withdraw this reading: someone else wrote it down, or it is signed.");
            return new WriteResult(StatusCodes.Status200OK, ReadingView.Of(change.Log.WithdrawReading(readingId, body.Reason, change.ById, change.At), change));
        },
        cancel);

    private static Task<IResult> ReopenAsync(Guid id, ReasonBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            change.Log.Reopen(body.Reason, change.ById, change.At);
            return Whole(change);
        },
        cancel);

    private static WriteResult Whole(Change change) => new(StatusCodes.Status200OK, CaseView.Of(change.Case, change.Overlap, change.People));

    private static void Guard(bool may, string otherwise)
    {
        if (!may)
        {
            throw new NotYourRoleException(otherwise);
        }
    }
}
