using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Storage.Cases;

internal sealed class DoseConfiguration : IEntityTypeConfiguration<Dose>
{
    public void Configure(EntityTypeBuilder<Dose> entity)
    {
        entity.ToTable("anaesthetic_doses");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(Dose.Number));
        entity.Ignore(dose => dose.Percent);
        entity.Ignore(dose => dose.VolumeMl);
        entity.Ignore(dose => dose.Mg);
        entity.Time(nameof(Dose.GivenAt));
        entity.Time(nameof(Dose.RecordedAt));
        entity.HasOne(dose => dose.Void).WithOne().HasForeignKey<DoseVoid>("ClinicId", "CaseId", "DoseNumber").IsRequired();
    }
}

internal sealed class DoseVoidConfiguration : IEntityTypeConfiguration<DoseVoid>
{
    public void Configure(EntityTypeBuilder<DoseVoid> entity)
    {
        entity.ToTable("anaesthetic_voids");
        entity.OfCase();
        entity.Property<int>("DoseNumber").ValueGeneratedNever();
        entity.HasKey("ClinicId", "CaseId", "DoseNumber");
        entity.Time(nameof(DoseVoid.At));
    }
}

internal sealed class RepairConfiguration : IEntityTypeConfiguration<Repair>
{
    public void Configure(EntityTypeBuilder<Repair> entity)
    {
        entity.ToTable("repairs");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(Repair.Ordinal));
        entity.Time(nameof(Repair.RecordedAt));
    }
}

internal sealed class VisitConfiguration : IEntityTypeConfiguration<Visit>
{
    public void Configure(EntityTypeBuilder<Visit> entity)
    {
        entity.ToTable("visits");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(Visit.Number));
        entity.Time(nameof(Visit.RecordedAt));
    }
}

internal sealed class PermanentSectionConfiguration : IEntityTypeConfiguration<PermanentSection>
{
    public void Configure(EntityTypeBuilder<PermanentSection> entity)
    {
        entity.ToTable("permanent_sections");
        entity.OfCase();
        entity.Property(sent => sent.BlockLabel).HasMaxLength(Block.LongestLabel);
        entity.HasKey("ClinicId", "CaseId", nameof(PermanentSection.StageNumber), nameof(PermanentSection.BlockLabel));
        entity.Property(sent => sent.StageNumber).ValueGeneratedNever();
        entity.Ignore(sent => sent.Result);
        entity.Time(nameof(PermanentSection.SentAt));
        entity.Time(nameof(PermanentSection.RecordedAt));
        entity.HasOne<Block>().WithMany().HasForeignKey("ClinicId", "CaseId", nameof(PermanentSection.StageNumber), nameof(PermanentSection.BlockLabel)).IsRequired();
        entity.HasMany(sent => sent.Results).WithOne().HasForeignKey("ClinicId", "CaseId", "StageNumber", "BlockLabel").IsRequired();
        entity.Navigation(sent => sent.Results).HasField("results");
    }
}

internal sealed class PermanentResultConfiguration : IEntityTypeConfiguration<PermanentResult>
{
    public void Configure(EntityTypeBuilder<PermanentResult> entity)
    {
        entity.ToTable("permanent_results");
        entity.OfStage();
        entity.Property<string>("BlockLabel").HasMaxLength(Block.LongestLabel);
        entity.HasKey("ClinicId", "CaseId", "StageNumber", "BlockLabel", nameof(PermanentResult.Ordinal));
        entity.Property(result => result.Ordinal).ValueGeneratedNever();
        entity.Time(nameof(PermanentResult.ReportedAt));
        entity.Time(nameof(PermanentResult.RecordedAt));
    }
}

internal sealed class SecondReadConfiguration : IEntityTypeConfiguration<SecondRead>
{
    public void Configure(EntityTypeBuilder<SecondRead> entity)
    {
        entity.ToTable("second_reads");
        entity.OfCase();
        entity.Property(read => read.BlockLabel).HasMaxLength(Block.LongestLabel);
        entity.HasKey("ClinicId", "CaseId", nameof(SecondRead.Number));
        entity.Time(nameof(SecondRead.AskedAt));
        entity.HasIndex("ClinicId", nameof(SecondRead.ReaderId));
        entity.HasOne<Block>().WithMany().HasForeignKey("ClinicId", "CaseId", nameof(SecondRead.StageNumber), nameof(SecondRead.BlockLabel)).IsRequired();
        entity.HasOne(read => read.Answer).WithOne().HasForeignKey<SecondReadAnswer>("ClinicId", "CaseId", "Number").IsRequired();
    }
}

internal sealed class SecondReadAnswerConfiguration : IEntityTypeConfiguration<SecondReadAnswer>
{
    public void Configure(EntityTypeBuilder<SecondReadAnswer> entity)
    {
        entity.ToTable("second_read_answers");
        entity.OfCase();
        entity.Property<int>("Number").ValueGeneratedNever();
        entity.HasKey("ClinicId", "CaseId", "Number");
        entity.Time(nameof(SecondReadAnswer.At));
    }
}
