using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Storage.History;

/// <summary>Seals the changes of cases, and checks the seals.</summary>
/// <param name="keys">The keys.</param>
public sealed class HistoryChain(HistoryKeys keys)
{
    /// <summary>The tables whose rows are written once and never changed.</summary>
    public static readonly IReadOnlySet<Type> WrittenOnce = new HashSet<Type>
    {
        typeof(SurgicalCase), typeof(Stage), typeof(StageTime), typeof(Block), typeof(Reading),
        typeof(Countersignature), typeof(Ending), typeof(MeasuredDefect),
        typeof(FactsCorrection), typeof(SiteConfirmation), typeof(SitePhoto), typeof(KeptAssessment),
        typeof(Dose), typeof(DoseVoid), typeof(Repair), typeof(Visit), typeof(PermanentSection), typeof(PermanentResult),
        typeof(SecondRead), typeof(SecondReadAnswer),
    };

    /// <summary>Adds the row for a change that was made to a tracked case and is not yet saved.</summary>
    /// <param name="db">The record.</param>
    /// <param name="changed">The case, changed.</param>
    /// <param name="what">What was done, in one word.</param>
    /// <param name="content">What was entered, as JSON.</param>
    /// <param name="byId">By whom.</param>
    /// <param name="at">When.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <param name="unsaved">The earlier changes of the case that are saved together with this one; null where it is saved by itself.</param>
    public async Task AppendAsync(
        ClinicContext db, SurgicalCase changed, string what, string content, Guid byId, ClinicalTime at, CancellationToken cancel, UnsavedChanges? unsaved = null)
    {
        // Looks for changes itself, unless the caller has turned that off and does it.
        var added = db.ChangeTracker.Entries().Where(row => row.State == EntityState.Added && unsaved?.Add(row.Entity) != false);
        var rows = RowsOf(changed, added).Select(RowPrint.Of);
        var sequence = changed.Head.Version;
        var previous = sequence == 1
            ? ""
            : unsaved?.LastHash ?? await db.History.Where(row => row.CaseId == changed.Id && row.Sequence == sequence - 1).Select(row => row.Hash).SingleAsync(cancel);
        var unsealed = new HistoryEntry
        {
            ClinicId = changed.ClinicId,
            CaseId = changed.Id,
            Sequence = sequence,
            At = at,
            ById = byId,
            What = what,
            Content = content,
            Rows = JsonSerializer.Serialize(rows.OrderBy(row => row.Table, StringComparer.Ordinal).ThenBy(row => row.Key, StringComparer.Ordinal), EntryJson.Options),
            PreviousHash = previous,
            KeyId = keys.CurrentId,
        };
        var hash = keys.Seal(keys.CurrentId, Bytes(unsealed))!;
        var entry = db.Add(unsealed);
        entry.Property(row => row.Hash).CurrentValue = hash;
        unsaved?.LastHash = hash;
        changed.Head.SealWith(keys.Seal(keys.CurrentId, EndBytes(changed, sequence, hash))!);
    }

    /// <summary>Checks the history of a case against its rows.</summary>
    /// <param name="db">The record, with nothing else tracked.</param>
    /// <param name="checkedCase">The case, tracked, with everything recorded in it.</param>
    /// <param name="history">Its history, in order.</param>
    /// <returns>The first fault, or null where all is as it was written.</returns>
    public ChainFault? FirstFault(ClinicContext db, SurgicalCase checkedCase, IReadOnlyList<HistoryEntry> history)
    {
        var present = RowsOf(checkedCase, db.ChangeTracker.Entries()).Select(RowPrint.Of).ToDictionary(row => (row.Table, row.Key), row => row.Sha256);
        var previous = "";
        for (var i = 0; i < history.Count; i++)
        {
            if (FaultOf(history[i], i + 1, previous) is { } fault)
            {
                return fault;
            }

            foreach (var row in JsonSerializer.Deserialize<RowPrint[]>(history[i].Rows, EntryJson.Options)!)
            {
                if (!present.Remove((row.Table, row.Key), out var print))
                {
                    return new ChainFault(i + 1, $"{row.Table} {row.Key}", "A row that was written is missing.");
                }

                if (print != row.Sha256)
                {
                    return new ChainFault(i + 1, $"{row.Table} {row.Key}", "A row was changed after it was written.");
                }
            }

            previous = history[i].Hash;
        }

        return FaultAtEnd(checkedCase, history, present.Keys.Select(key => $"{key.Table} {key.Key}").Order(StringComparer.Ordinal).FirstOrDefault());
    }

    private ChainFault? FaultOf(HistoryEntry row, int sequence, string previous) => row switch
    {
        _ when row.Sequence != sequence => new ChainFault(sequence, "history", "A row of the history is missing."),
        _ when !keys.Ids.Contains(row.KeyId) => new ChainFault(sequence, "history", "The key that sealed this row is unknown here."),
        _ when row.PreviousHash != previous => new ChainFault(sequence, "history", "This row does not follow from the one before."),
        _ when row.Hash != keys.Seal(row.KeyId, Bytes(row)) => new ChainFault(sequence, "history", "This row of the history was changed after it was written."),
        _ => null,
    };

    private ChainFault? FaultAtEnd(SurgicalCase surgicalCase, IReadOnlyList<HistoryEntry> history, string? unlisted)
    {
        var end = history.Count;
        return surgicalCase.Head switch
        {
            _ when unlisted is not null => new ChainFault(end, unlisted, "The record contains a row that no entry of its history wrote."),
            { Version: var version } when version != end => new ChainFault(end, "case_heads", "The history ends before the version of the case."),
            _ when end == 0 || surgicalCase.Head.Seal != keys.Seal(history[^1].KeyId, EndBytes(surgicalCase, end, history[^1].Hash)) => new ChainFault(end, "case_heads", "The history does not end where the case was last sealed."),
            var head when !head.IsDerivedFrom(surgicalCase) => new ChainFault(end, "case_heads", "The case's summary does not match its rows."),
            _ => null,
        };
    }

    private static IEnumerable<EntityEntry> RowsOf(SurgicalCase surgicalCase, IEnumerable<EntityEntry> rows) => rows
        .Where(row => WrittenOnce.Contains(row.Metadata.ClrType)
            && (row.Entity is SurgicalCase one ? one.Id == surgicalCase.Id : (Guid)row.Property("CaseId").CurrentValue! == surgicalCase.Id));

    // Everything of a row that its seal covers. Texts go in with their length, so that no two rows can read the same.
    private static byte[] Bytes(HistoryEntry row) => Encoding.UTF8.GetBytes(string.Concat(
        new[]
        {
            "history 1", row.ClinicId.ToString("D"), row.CaseId.ToString("D"), row.Sequence.ToString(CultureInfo.InvariantCulture),
            row.At.Utc.Ticks.ToString(CultureInfo.InvariantCulture), row.At.OffsetMinutes.ToString(CultureInfo.InvariantCulture),
            row.ById.ToString("D"), row.What, row.Content, row.Rows, row.PreviousHash, row.KeyId,
        }.Select(part => FormattableString.Invariant($"{part.Length}:{part}"))));

    // The recall flag stays once raised, so it can't be worked out from the rows and is sealed itself.
    private static byte[] EndBytes(SurgicalCase surgicalCase, int sequence, string hash) =>
        Encoding.UTF8.GetBytes(FormattableString.Invariant($"end 1 {surgicalCase.Id:D} {sequence} {hash} {surgicalCase.Head.Recall}"));
}

/// <summary>Where a record is not as it was written.</summary>
/// <param name="Sequence">The row of the history at which it shows.</param>
/// <param name="Row">The row at fault: its table and key.</param>
/// <param name="Why">What is wrong with it.</param>
public sealed record ChainFault(int Sequence, string Row, string Why);
