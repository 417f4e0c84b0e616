using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Clinics;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage.Clinics;

/// <summary>Clinics made from their entries.</summary>
public static class ClinicEntries
{
    /// <summary>The entries of the clinic in scope itself, in order.</summary>
    public static Task<List<LedgerRow>> EntriesOfClinicAsync(this ClinicContext db, CancellationToken cancel) =>
        db.Ledger.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Clinic).OrderBy(row => row.SubjectNumber).ToListAsync(cancel);

    /// <summary>The clinic that entries make.</summary>
    /// <param name="rows">Its entries, in order.</param>
    /// <exception cref="System.Text.Json.JsonException">One of them can't be read.</exception>
    public static ClinicState StateOf(IEnumerable<LedgerRow> rows) =>
        rows.Aggregate(ClinicState.Empty, (state, row) => row.ReadPlain<ClinicEvent>(EntrySubjects.Clinic).Apply(state));

    /// <summary>The settings of the clinic in scope now.</summary>
    public static async Task<ClinicSettings> SettingsAsync(this ClinicContext db, Guid clinicId, CancellationToken cancel) =>
        SettingsOf(await db.Clinics.AsNoTracking().SingleAsync(clinic => clinic.Id == clinicId, cancel));

    /// <summary>The settings of the clinic in scope as they held when an entry was written.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="number">The number of the entry in the clinic's record: clocks step back, and numbers don't.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<ClinicSettings> SettingsAtAsync(this ClinicContext db, Guid clinicId, long number, CancellationToken cancel) =>
        StateOf(await db.Ledger.AsNoTracking()
            .Where(row => row.SubjectKind == EntrySubjects.Clinic && (row.Kind == ClinicAdded.Kind.Word || row.Kind == SettingsChanged.Kind.Word) && row.Number <= number)
            .OrderByDescending(row => row.SubjectNumber).Take(1).ToListAsync(cancel)).Settings ?? await db.SettingsAsync(clinicId, cancel);

    /// <summary>The settings in the row of a clinic.</summary>
    public static ClinicSettings SettingsOf(Clinic clinic) => new(
        clinic.Name, clinic.TimeZone, clinic.Overlap, clinic.SizeBoundary, clinic.Retention.SlideYears, clinic.Retention.BlockYears, clinic.Retention.RecordYears, clinic.MirroredBlocks);

    /// <summary>The closing in the row of a month.</summary>
    public static MonthClosed ClosedOf(MonthClosing closing) => new(closing.Month, closing.From, closing.To, closing.Figures, closing.Cases);

    /// <summary>A clinic with settings as they were.</summary>
    public static Clinic ClinicOf(Guid id, ClinicSettings settings) => new()
    {
        Id = id,
        Name = settings.Name,
        TimeZone = settings.TimeZone,
        OverlapMinutes = settings.Overlap.Minutes,
        SizeBoundary = settings.SizeBoundary,
        MirroredBlocks = settings.MirroredBlocks,
        Retention = new Retention { SlideYears = settings.SlideYears, BlockYears = settings.BlockYears, RecordYears = settings.RecordYears },
    };

    /// <summary>True for what is about to be saved and has an entry of its own.</summary>
    internal static bool IsOnRecord(EntityEntry entry) => entry.Entity is Clinic or ApiToken or MonthClosing;

    /// <summary>The events that say what is about to be saved of clinics.</summary>
    internal static IEnumerable<(Guid ClinicId, ClinicEvent Event)> EventsIn(IReadOnlyList<EntityEntry> entries, CredentialPrints prints)
    {
        foreach (var entry in entries)
        {
            switch (entry)
            {
                case { Entity: Clinic clinic, State: EntityState.Added }:
                    yield return (clinic.Id, new ClinicAdded(SettingsOf(clinic)));
                    break;
                case { Entity: Clinic clinic, State: EntityState.Modified }:
                    yield return (clinic.Id, new SettingsChanged(SettingsOf(clinic)));
                    break;
                case { Entity: ApiToken token, State: EntityState.Added }:
                    yield return (token.ClinicId, Made(token, prints));
                    break;
                case { Entity: ApiToken token, State: EntityState.Modified } when entry.Property(nameof(ApiToken.RevokedUtc)).IsModified:
                    yield return (token.ClinicId, new TokenRevoked(token.Id));
                    break;
                case { Entity: MonthClosing closing, State: EntityState.Added }:
                    yield return (closing.ClinicId, ClosedOf(closing));
                    break;
            }
        }
    }

    private static TokenMade Made(ApiToken token, CredentialPrints prints) => new(
        token.Id,
        token.Name,
        token.RoleWords.Split(' '),
        token.ExpiresUtc is { } expires ? ClinicalTime.From(new DateTimeOffset(DateTime.SpecifyKind(expires, DateTimeKind.Utc))) : null,
        prints.Of(AccountSecrets.In(token).Single()));
}
