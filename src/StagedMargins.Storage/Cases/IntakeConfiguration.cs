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
