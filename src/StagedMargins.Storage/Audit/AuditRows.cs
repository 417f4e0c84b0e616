using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core;
using StagedMargins.Core.Audit;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Clinics;

namespace StagedMargins.Storage.Audit;

/// <summary>
/// An ended case as the audit counts it. Derived data: written with every change of the case, never by hand, and made again from the
/// record by <c>rebuild</c>. The month is not kept, as the clinic's time zone may change.
/// </summary>
public sealed class AuditCase
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>Its number in the clinic.</summary>
    public string CaseNumber { get; init; } = "";

    /// <summary>When it ended, UTC.</summary>
    public DateTime EndedUtc { get; init; }

    /// <summary>The surgeon, where named.</summary>
    public Guid? SurgeonId { get; init; }

    /// <summary>The area class in its letter, as said or as the site has it.</summary>
    public string? AreaClass { get; init; }

    /// <summary>The tumour's group, as a word of <see cref="TumourGroup"/>.</summary>
    public string Tumour { get; init; } = "";

    /// <summary>The lesion's size, as a word of <see cref="Core.Audit.SizeBand"/>.</summary>
    public string SizeBand { get; init; } = "";

    /// <summary>How it ended.</summary>
    public CaseOutcome Outcome { get; init; }

    /// <summary>Number of stages.</summary>
    public int Stages { get; init; }

    /// <summary>As <see cref="CaseSummary.Blocks"/>.</summary>
    public int Blocks { get; init; }

    /// <summary>As <see cref="CaseSummary.ClearedStage"/>.</summary>
    public int? ClearedStage { get; init; }

    /// <summary>As <see cref="CaseSummary.Readings"/>.</summary>
    public int Readings { get; init; }

    /// <summary>As <see cref="CaseSummary.Unreadable"/>.</summary>
    public int Unreadable { get; init; }

    /// <summary>As <see cref="CaseSummary.Amendments"/>.</summary>
    public int Amendments { get; init; }

    /// <summary>As <see cref="CaseSummary.Recuts"/>.</summary>
    public int Recuts { get; init; }

    /// <summary>As <see cref="CaseSummary.NotSeen"/>.</summary>
    public int NotSeen { get; init; }

    /// <summary>As <see cref="CaseSummary.Withdrawn"/>.</summary>
    public int Withdrawn { get; init; }

    /// <summary>As <see cref="CaseSummary.Corrections"/>.</summary>
    public int Corrections { get; init; }

    /// <summary>As <see cref="CaseSummary.Reopenings"/>.</summary>
    public int Reopenings { get; init; }

    /// <summary>As <see cref="CaseSummary.ReviewsOpen"/>.</summary>
    public int ReviewsOpen { get; init; }

    /// <summary>As <see cref="CaseSummary.ReviewsAnswered"/>.</summary>
    public int ReviewsAnswered { get; init; }

    /// <summary>1 where the case is flagged for recall, else 0, so that it adds up.</summary>
    public int Recall { get; init; }

    /// <summary>As <see cref="CaseSummary.DefectUm2"/>.</summary>
    public long? DefectUm2 { get; init; }

    /// <summary>As <see cref="CaseSummary.LesionUm2"/>.</summary>
    public long? LesionUm2 { get; init; }

    /// <summary>As <see cref="CaseSummary.SparedUm2"/>.</summary>
    public long? SparedUm2 { get; init; }

    /// <summary>As <see cref="PairedReads.BothClear"/>.</summary>
    public int PairsBothClear { get; init; }

    /// <summary>As <see cref="PairedReads.BothTumour"/>.</summary>
    public int PairsBothTumour { get; init; }

    /// <summary>As <see cref="PairedReads.TumourThenClear"/>.</summary>
    public int PairsTumourThenClear { get; init; }

    /// <summary>As <see cref="PairedReads.ClearThenTumour"/>.</summary>
    public int PairsClearThenTumour { get; init; }

    /// <summary>As <see cref="PairedReads.NotComparable"/>.</summary>
    public int PairsNotComparable { get; init; }

    /// <summary>The row of an ended case and those of its stages.</summary>
    public static (AuditCase Case, IReadOnlyList<AuditStage> Stages) Of(SurgicalCase ended)
    {
        var summary = CaseSummary.Of(ended);
        var row = new AuditCase
        {
            ClinicId = ended.ClinicId,
            CaseId = ended.Id,
            CaseNumber = ended.CaseNumber,
            EndedUtc = ended.Ending!.EndedAt.Utc,
            SurgeonId = ended.SurgeonId,
            AreaClass = Sites.AreaOf(ended.Facts) is { } area ? EnumNames<AreaClass>.Of(area) : null,
            Tumour = EnumNames<TumourGroup>.Of(summary.Tumour),
            SizeBand = EnumNames<SizeBand>.Of(summary.SizeBand),
            Outcome = ended.Ending.Outcome,
            Stages = ended.Stages.Count,
            Blocks = summary.Blocks,
            ClearedStage = summary.ClearedStage,
            Readings = summary.Readings,
            Unreadable = summary.Unreadable,
            Amendments = summary.Amendments,
            Recuts = summary.Recuts,
            NotSeen = summary.NotSeen,
            Withdrawn = summary.Withdrawn,
            Corrections = summary.Corrections,
            Reopenings = summary.Reopenings,
            ReviewsOpen = summary.ReviewsOpen,
            ReviewsAnswered = summary.ReviewsAnswered,
            Recall = ended.Recall ? 1 : 0,
            DefectUm2 = summary.DefectUm2,
            LesionUm2 = summary.LesionUm2,
            SparedUm2 = summary.SparedUm2,
            PairsBothClear = summary.Pairs.BothClear,
            PairsBothTumour = summary.Pairs.BothTumour,
            PairsTumourThenClear = summary.Pairs.TumourThenClear,
            PairsClearThenTumour = summary.Pairs.ClearThenTumour,
            PairsNotComparable = summary.Pairs.NotComparable,
        };
        return (row, [.. summary.Stages.Select(stage => new AuditStage { ClinicId = ended.ClinicId, CaseId = ended.Id, StageNumber = stage.Number, TurnaroundMinutes = stage.TurnaroundMinutes })]);
    }
}

/// <summary>A stage of an ended case as the audit counts it. Derived data, like its case.</summary>
public sealed class AuditStage
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>The stage's number.</summary>
    public int StageNumber { get; init; }

    /// <summary>As <see cref="StageSummary.TurnaroundMinutes"/>.</summary>
    public int? TurnaroundMinutes { get; init; }
}

/// <summary>A month whose figures a manager kept as they were. Written once.</summary>
public sealed class MonthClosing
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The month, <c>yyyy-MM</c>.</summary>
    public string Month { get; init; } = "";

    /// <summary>Its first moment, by the clinic's time zone when it was closed.</summary>
    public ClinicalTime From { get; init; }

    /// <summary>The first moment after it.</summary>
    public ClinicalTime To { get; init; }

    /// <summary>When it was closed.</summary>
    public ClinicalTime ClosedAt { get; init; }

    /// <summary>By whom.</summary>
    public Guid ClosedById { get; init; }

    /// <summary>The figures as they stood, as JSON.</summary>
    public string Figures { get; init; } = "";

    /// <summary>Ids of the cases that the figures count, separated by blanks; null where an earlier version closed it.</summary>
    public string? Cases { get; init; }
}

internal sealed class AuditCaseConfiguration : IEntityTypeConfiguration<AuditCase>
{
    public void Configure(EntityTypeBuilder<AuditCase> entity)
    {
        entity.ToTable("audit_cases");
        entity.HasKey(row => new { row.ClinicId, row.CaseId });
        entity.Property(row => row.CaseId).ValueGeneratedNever();
        entity.Property(row => row.CaseNumber).HasMaxLength(32);
        entity.Property(row => row.AreaClass).HasMaxLength(1);
        entity.Property(row => row.Tumour).HasMaxLength(32);
        entity.Property(row => row.SizeBand).HasMaxLength(32);
        entity.HasIndex(row => new { row.ClinicId, row.EndedUtc });
    }
}

internal sealed class AuditStageConfiguration : IEntityTypeConfiguration<AuditStage>
{
    public void Configure(EntityTypeBuilder<AuditStage> entity)
    {
        entity.ToTable("audit_stages");
        entity.HasKey(row => new { row.ClinicId, row.CaseId, row.StageNumber });
        entity.Property(row => row.StageNumber).ValueGeneratedNever();
        entity.HasOne<AuditCase>().WithMany().HasForeignKey(row => new { row.ClinicId, row.CaseId });
    }
}

internal sealed class MonthClosingConfiguration : IEntityTypeConfiguration<MonthClosing>
{
    public void Configure(EntityTypeBuilder<MonthClosing> entity)
    {
        entity.ToTable("month_closings");
        entity.HasKey(closing => new { closing.ClinicId, closing.Month });
        entity.Property(closing => closing.Month).HasMaxLength(7);
        entity.Time(nameof(MonthClosing.From));
        entity.Time(nameof(MonthClosing.To));
        entity.Time(nameof(MonthClosing.ClosedAt));
        entity.HasOne<Clinic>().WithMany().HasForeignKey(closing => closing.ClinicId);
    }
}
