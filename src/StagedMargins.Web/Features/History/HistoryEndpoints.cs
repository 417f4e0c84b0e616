using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.History;

/// <summary>One change as it is sent.</summary>
/// <param name="Sequence">Its place, from 1.</param>
/// <param name="At">When.</param>
/// <param name="By">By whom.</param>
/// <param name="What">What was done, in one word.</param>
/// <param name="Sentence">What was done, in a sentence; null where an entry was changed and can no longer be read.</param>
/// <param name="Content">What was entered.</param>
/// <param name="Hash">Its seal.</param>
public sealed record HistoryEntryView(long Sequence, DateTimeOffset At, string? By, string What, string? Sentence, JsonElement Content, string Hash);

/// <summary>Whether the record is as it was written.</summary>
/// <param name="Intact">True where it is.</param>
/// <param name="CheckedEntries">Changes checked.</param>
/// <param name="FirstBroken">The first row that is not as it was written.</param>
public sealed record ChainView(bool Intact, int CheckedEntries, LedgerFault? FirstBroken);

/// <summary>The history of a case as it is sent.</summary>
/// <param name="Entries">Its changes, oldest first.</param>
/// <param name="Chain">The check of its seals and rows.</param>
public sealed record HistoryView(HistoryEntryView[] Entries, ChainView Chain);

/// <summary>The history of a case, by API and page.</summary>
public static class HistoryEndpoints
{
    /// <summary>Adds the route.</summary>
    public static void MapHistory(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/history", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("History")
        .WithSummary("Every entry of the case, and the check that the record is unchanged since it was written.").Produces<HistoryView>();

    private static Task<IResult> GetAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, CancellationToken cancel) =>
        db.InReadSnapshotAsync(async () => Results.Ok(await ReadAsync(id, person, db, check, cancel)), cancel);

    /// <summary>Reads it.</summary>
    /// <exception cref="NotInRecordException">There is no such case.</exception>
    internal static async Task<HistoryView> ReadAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, CancellationToken cancel)
    {
        var history = await db.EntriesOfCaseAsync(id, cancel);
        if (history.Count == 0 && !await db.Cases.AnyAsync(c => c.CaseId == id, cancel))
        {
            throw new NotInRecordException("Case not found.");
        }

        var fault = await check.FirstFaultAsync(id, cancel);
        var subject = await db.Keys.OfCaseAsync(db, person.ClinicId, id, cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var told = new Telling(SurgicalCase.Unopened(person.ClinicId, id), subject, people);
        return new HistoryView([.. history.Select(told.Tell)], new ChainView(fault is null, history.Count, fault));
    }

    // The case before an entry is part of what its sentence says; after one that can't be read nobody knows it.
    private sealed class Telling(SurgicalCase opening, SubjectKey subject, ClinicPeople people)
    {
        private SurgicalCase? before = opening;

        internal HistoryEntryView Tell(LedgerRow row)
        {
            var hash = Convert.ToHexStringLower(row.Hash);
            try
            {
                var (address, written) = (row.AuthorAddress(), row.Authorship());
                var entry = CaseEntries.EventOf(row, subject);
                var content = JsonSerializer.Deserialize<JsonElement>(EntryJson.WriteOpen(entry));
                var sentence = before is null ? null : entry.Sentence(before, id => people.EmailOf(id) ?? Terms.NotEntered);
                before = before?.Apply(entry, written);
                return new HistoryEntryView(row.SubjectNumber ?? 0, written.At.ToDateTimeOffset(), address, row.Kind, sentence, content, hash);
            }
            catch (Exception e) when (UnreadableEntryException.IsCause(e))
            {
                // An entry that someone changed may no longer be one; it is shown as it stands, and the check names it.
                before = null;
                return new HistoryEntryView(
                    row.SubjectNumber ?? 0, row.At.ToDateTimeOffset(), LedgerAuthor.AddressIn(row.ByName), row.Kind, null, JsonSerializer.SerializeToElement(row.Body), hash);
            }
        }
    }
}
