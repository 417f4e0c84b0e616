using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.History;
using StagedMargins.Storage.AccessLog;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage;

/// <summary>
/// Everything kept, one model for both databases. Tables of a clinic are filtered by the clinic in scope.
/// </summary>
/// <param name="options">The database.</param>
/// <param name="scope">The clinic in scope.</param>
public sealed class ClinicContext(DbContextOptions<ClinicContext> options, ClinicScope scope)
    : IdentityDbContext<Person, IdentityRole<Guid>, Guid>(options), IDataProtectionKeyContext
{
    /// <summary>Cases with what was recorded in them.</summary>
    public DbSet<SurgicalCase> Cases => Set<SurgicalCase>();

    /// <summary>Second reads of blocks.</summary>
    public DbSet<SecondRead> SecondReads => Set<SecondRead>();

    /// <summary>The history of cases.</summary>
    public DbSet<HistoryEntry> History => Set<HistoryEntry>();

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

    private Guid ScopedClinicId => scope.ClinicId;

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<ClockArc>().HaveConversion<Conversions.ArcConverter>().HaveMaxLength(11);
        configurationBuilder.Properties<Length>().HaveConversion<Conversions.LengthConverter>();
        Word<AnatomicalPlane>();
        Word<LocalAnaesthetic>();
        Word<CaseOutcome>();
        Word<CaseState>();
        Word<ReadingOutcome>();
        Word<RepairKind>();
        Word<SizeBoundary>();
        Word<StageMoment>();
        if (Database.ProviderName == "Microsoft.EntityFrameworkCore.Sqlite")
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
