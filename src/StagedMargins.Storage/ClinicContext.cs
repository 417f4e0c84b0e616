using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.AccessLog;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage;

/// <summary>
/// Everything kept, one model for both databases. Tables of a clinic are filtered by the clinic in scope.
/// </summary>
/// <param name="options">The database.</param>
public sealed class ClinicContext(DbContextOptions<ClinicContext> options)
    : IdentityDbContext<Person, IdentityRole<Guid>, Guid>(options), IDataProtectionKeyContext
{
    /// <summary>The clinic in scope; none until it is set.</summary>
    public ClinicScope Scope { get; set; } = new();

    /// <summary>The entries of the ledger: the record itself.</summary>
    public DbSet<LedgerRow> Ledger => Set<LedgerRow>();

    /// <summary>The ends of its streams.</summary>
    public DbSet<LedgerHead> LedgerHeads => Set<LedgerHead>();

    /// <summary>The data keys of its subjects, wrapped.</summary>
    public DbSet<DataKeyRow> DataKeys => Set<DataKeyRow>();

    /// <summary>What each of its keys gives for a known text.</summary>
    public DbSet<KeyCheck> KeyChecks => Set<KeyCheck>();

    /// <summary>How each case stands, computed from its entries.</summary>
    public DbSet<CaseRow> Cases => Set<CaseRow>();

    /// <summary>Second reads that were asked for, computed from the entries of their cases.</summary>
    public DbSet<SecondReadRow> SecondReads => Set<SecondReadRow>();

    /// <summary>Files of photos.</summary>
    public DbSet<Photograph> Photographs => Set<Photograph>();

    /// <summary>Answers kept under idempotency keys.</summary>
    public DbSet<KeptAnswer> KeptAnswers => Set<KeptAnswer>();

    /// <summary>Clinics.</summary>
    public DbSet<Clinic> Clinics => Set<Clinic>();

    /// <summary>Counters of case numbers.</summary>
    public DbSet<CaseNumberCounter> CaseNumberCounters => Set<CaseNumberCounter>();

    /// <summary>Keys that protect sign-in tokens, shared by every copy of the service.</summary>
    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();

    /// <summary>Who looked at which case.</summary>
    public DbSet<AccessEntry> AccessLog => Set<AccessEntry>();

    /// <summary>Tokens of other systems.</summary>
    public DbSet<ApiToken> ApiTokens => Set<ApiToken>();

    /// <summary>One-time codes that make a clinic.</summary>
    public DbSet<ClinicCode> ClinicCodes => Set<ClinicCode>();

    /// <summary>Ended cases as the audit counts them.</summary>
    public DbSet<AuditCase> AuditCases => Set<AuditCase>();

    /// <summary>Their stages.</summary>
    public DbSet<AuditStage> AuditStages => Set<AuditStage>();

    /// <summary>Months whose figures are kept.</summary>
    public DbSet<MonthClosing> MonthClosings => Set<MonthClosing>();

    /// <summary>Cases kept in memory; null where every case is read from its entries.</summary>
    internal CaseMemory? Memory => Scope.FindMemory?.Invoke();

    /// <summary>The keys to what was written in words.</summary>
    /// <exception cref="InvalidOperationException">The present work was not given them.</exception>
    public SubjectKeys Keys => Scope.FindKeys?.Invoke() ?? throw new InvalidOperationException("Words can't be read or written without the keys.");

    /// <summary>True on a SQLite file.</summary>
    internal bool IsSqlite => Database.ProviderName == "Microsoft.EntityFrameworkCore.Sqlite";

    /// <summary>The clinic in scope.</summary>
    internal Guid ScopedClinicId => Scope.ClinicId;

    /// <inheritdoc/>
    public override async Task<int> SaveChangesAsync(bool acceptAllChangesOnSuccess, CancellationToken cancellationToken = default)
    {
        var pending = Scope.FindChangeEntries is null ? null : PendingChanges.In(this);
        if (pending is null or { IsEmpty: true })
        {
            return await base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
        }

        await using var own = Database.CurrentTransaction is null ? await Database.BeginTransactionAsync(cancellationToken) : null;

        // What was saved keeps its state until its entries are written, which say what it was before.
        var saved = await base.SaveChangesAsync(acceptAllChangesOnSuccess: false, cancellationToken);
        await Scope.FindChangeEntries!().AppendAsync(this, pending, Scope.PersonId, cancellationToken);
        await (own?.CommitAsync(cancellationToken) ?? Task.CompletedTask);
        if (acceptAllChangesOnSuccess)
        {
            ChangeTracker.AcceptAllChanges();
        }

        return saved;
    }

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        Word<BodySide>();
        Word<CaseOutcome>();
        Word<CaseState>();
        Word<SizeBoundary>();
        if (IsSqlite)
        {
            configurationBuilder.Properties<DateTime>().HaveConversion<Conversions.UtcTicksConverter>();
        }

        void Word<T>()
            where T : struct, Enum =>
            configurationBuilder.Properties<T>().HaveConversion<Conversions.WordConverter<T>>().HaveMaxLength(32);
    }

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.ApplyConfigurationsFromAssembly(typeof(ClinicContext).Assembly);
        foreach (var entity in builder.Model.GetEntityTypes().Where(type => type.FindProperty("ClinicId") is not null && type.ClrType != typeof(Person)))
        {
            KeepChildren(entity);
            GetType().GetMethod(nameof(FilterByClinic), System.Reflection.BindingFlags.NonPublic | System.Reflection.BindingFlags.Instance)!
                .MakeGenericMethod(entity.ClrType)
                .Invoke(this, [builder]);
        }
    }

    // Nothing of a record is deleted, so nothing may vanish with what it belongs to.
    private static void KeepChildren(Microsoft.EntityFrameworkCore.Metadata.IMutableEntityType entity)
    {
        foreach (var key in entity.GetForeignKeys())
        {
            key.DeleteBehavior = DeleteBehavior.Restrict;
        }
    }

    private void FilterByClinic<T>(ModelBuilder builder)
        where T : class =>
        builder.Entity<T>().HasQueryFilter(row => EF.Property<Guid>(row, "ClinicId") == ScopedClinicId);
}
