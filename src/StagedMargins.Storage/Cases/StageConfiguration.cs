using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Storage.Cases;

internal sealed class StageConfiguration : IEntityTypeConfiguration<Stage>
{
    public void Configure(EntityTypeBuilder<Stage> entity)
    {
        entity.ToTable("stages");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(Stage.Number));
        entity.Property(stage => stage.Number).ValueGeneratedNever();
        entity.Property(stage => stage.Pieces).AsJson();
        entity.Property(stage => stage.Alerts).AsJson();
        entity.Time(nameof(Stage.TakenAt));
        entity.Time(nameof(Stage.RecordedAt));
        entity.HasMany(stage => stage.Blocks).WithOne().HasForeignKey("ClinicId", "CaseId", "StageNumber").IsRequired();
        entity.HasMany(stage => stage.Times).WithOne().HasForeignKey("ClinicId", "CaseId", "StageNumber").IsRequired();
        entity.Navigation(stage => stage.Blocks).HasField("blocks");
        entity.Navigation(stage => stage.Times).HasField("times");
    }
}

internal sealed class StageTimeConfiguration : IEntityTypeConfiguration<StageTime>
{
    public void Configure(EntityTypeBuilder<StageTime> entity)
    {
        entity.ToTable("stage_times");
        entity.OfStage();
        entity.HasKey("ClinicId", "CaseId", "StageNumber", nameof(StageTime.Ordinal));
        entity.Time(nameof(StageTime.Time));
        entity.Time(nameof(StageTime.RecordedAt));
    }
}

internal sealed class BlockConfiguration : IEntityTypeConfiguration<Block>
{
    public void Configure(EntityTypeBuilder<Block> entity)
    {
        entity.ToTable("blocks");
        entity.OfStage();
        entity.HasKey("ClinicId", "CaseId", "StageNumber", nameof(Block.Label));
        entity.Property(block => block.Label).HasMaxLength(Block.LongestLabel);
        entity.Property(block => block.FromInk).HasMaxLength(Block.LongestInk);
        entity.Property(block => block.ToInk).HasMaxLength(Block.LongestInk);
        entity.Ignore(block => block.CountingReading);
        entity.Time(nameof(Block.RecordedAt));
        entity.HasMany(block => block.Readings).WithOne().HasForeignKey("ClinicId", "CaseId", "StageNumber", "BlockLabel").IsRequired();
        entity.Navigation(block => block.Readings).HasField("readings");
    }
}

internal sealed class ReadingConfiguration : IEntityTypeConfiguration<Reading>
{
    public void Configure(EntityTypeBuilder<Reading> entity)
    {
        entity.ToTable("readings");
        entity.OfStage();
        entity.Property<string>("BlockLabel").HasMaxLength(Block.LongestLabel);
        entity.HasKey("ClinicId", "CaseId", nameof(Reading.Id));
        entity.Property(reading => reading.Id).ValueGeneratedNever();
        entity.Property(reading => reading.Findings).AsJson();
        entity.Ignore(reading => reading.SignedById);
        entity.Time(nameof(Reading.ReadAt));
        entity.Time(nameof(Reading.RecordedAt));
        entity.HasIndex("ClinicId", "CaseId", "StageNumber", "BlockLabel", nameof(Reading.Ordinal)).IsUnique();
        entity.HasOne(reading => reading.Countersignature).WithOne()
            .HasForeignKey<Countersignature>("ClinicId", "CaseId", "ReadingId").IsRequired();
    }
}

internal sealed class CountersignatureConfiguration : IEntityTypeConfiguration<Countersignature>
{
    public void Configure(EntityTypeBuilder<Countersignature> entity)
    {
        entity.ToTable("countersignatures");
        entity.OfCase();
        entity.Property<Guid>("ReadingId").ValueGeneratedNever();
        entity.HasKey("ClinicId", "CaseId", "ReadingId");
        entity.Time(nameof(Countersignature.At));
    }
}
