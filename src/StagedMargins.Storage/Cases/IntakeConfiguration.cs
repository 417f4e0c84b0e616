using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Storage.Cases;

internal sealed class FactsCorrectionConfiguration : IEntityTypeConfiguration<FactsCorrection>
{
    public void Configure(EntityTypeBuilder<FactsCorrection> entity)
    {
        entity.ToTable("facts_corrections");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(FactsCorrection.Ordinal));
        entity.Property(correction => correction.Facts).AsJson();
        entity.Time(nameof(FactsCorrection.RecordedAt));
    }
}

internal sealed class SiteConfirmationConfiguration : IEntityTypeConfiguration<SiteConfirmation>
{
    public void Configure(EntityTypeBuilder<SiteConfirmation> entity)
    {
        entity.ToTable("site_confirmations");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(SiteConfirmation.Ordinal));
        entity.Property(confirmation => confirmation.Site).AsJson();
        entity.Time(nameof(SiteConfirmation.ConfirmedAt));
    }
}

internal sealed class SitePhotoConfiguration : IEntityTypeConfiguration<SitePhoto>
{
    internal const string Table = "site_photos";

    public void Configure(EntityTypeBuilder<SitePhoto> entity)
    {
        entity.ToTable(Table);
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(SitePhoto.Ordinal));
        entity.Property(photo => photo.Site).AsJson();
        entity.Property(photo => photo.ContentType).HasMaxLength(32);
        entity.Property(photo => photo.Sha256).HasMaxLength(64);
        entity.Time(nameof(SitePhoto.AddedAt));
        entity.HasOne(photo => photo.File).WithOne().HasForeignKey<SitePhotoFile>("ClinicId", "CaseId", "Ordinal").IsRequired();
        entity.Navigation(photo => photo.File).IsRequired();
    }
}

// A part of the same row, so that a case is read without its pictures and neither is written without the other.
internal sealed class SitePhotoFileConfiguration : IEntityTypeConfiguration<SitePhotoFile>
{
    public void Configure(EntityTypeBuilder<SitePhotoFile> entity)
    {
        entity.ToTable(SitePhotoConfiguration.Table);
        entity.OfCase();
        entity.Property<int>("Ordinal").ValueGeneratedNever();
        entity.HasKey("ClinicId", "CaseId", "Ordinal");
    }
}

internal sealed class KeptAssessmentConfiguration : IEntityTypeConfiguration<KeptAssessment>
{
    public void Configure(EntityTypeBuilder<KeptAssessment> entity)
    {
        entity.ToTable("risk_assessments");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(KeptAssessment.Ordinal));
        entity.Property(kept => kept.Assessment).AsJson();
        entity.Time(nameof(KeptAssessment.AssessedAt));
    }
}
