using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Storage.Cases;

internal sealed class CaseConfiguration : IEntityTypeConfiguration<SurgicalCase>
{
    public void Configure(EntityTypeBuilder<SurgicalCase> entity)
    {
        entity.ToTable("cases");
        entity.HasKey(c => new { c.ClinicId, c.Id });
        entity.Property(c => c.Id).ValueGeneratedNever();
        entity.Property(c => c.CaseNumber).HasMaxLength(32);
        entity.Property(c => c.PatientRef).HasMaxLength(64);
        entity.Property(c => c.TwelveOClock).HasMaxLength(200);
        // The column holds the facts of intake; the property says what is known now, corrections included.
        entity.Property(c => c.Facts).AsJson().HasField("openingFacts").UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.Time(nameof(SurgicalCase.OpenedAt));
        entity.HasIndex(c => new { c.ClinicId, c.CaseNumber }).IsUnique();
        entity.HasIndex(c => new { c.ClinicId, c.PatientRef });

        entity.HasOne(c => c.Head).WithOne().HasForeignKey<CaseHead>("ClinicId", "CaseId").IsRequired();
        entity.HasOne(c => c.Ending).WithOne().HasForeignKey<Ending>("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.Stages).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.MeasuredDefects).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.FactsCorrections).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.SiteConfirmations).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.SitePhotos).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.Assessments).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.Doses).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.Repairs).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.Visits).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.PermanentSections).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.HasMany(c => c.SecondReads).WithOne().HasForeignKey("ClinicId", "CaseId").IsRequired();
        entity.Navigation(c => c.Head).IsRequired();
        entity.Navigation(c => c.Stages).HasField("stages");
        entity.Navigation(c => c.MeasuredDefects).HasField("measuredDefects");
        entity.Navigation(c => c.FactsCorrections).HasField("factsCorrections");
        entity.Navigation(c => c.SiteConfirmations).HasField("siteConfirmations");
        entity.Navigation(c => c.SitePhotos).HasField("sitePhotos");
        entity.Navigation(c => c.Assessments).HasField("assessments");
        entity.Navigation(c => c.Doses).HasField("doses");
        entity.Navigation(c => c.Repairs).HasField("repairs");
        entity.Navigation(c => c.Visits).HasField("visits");
        entity.Navigation(c => c.PermanentSections).HasField("permanentSections");
        entity.Navigation(c => c.SecondReads).HasField("secondReads");
        entity.Ignore(c => c.NewEntries);
        entity.Ignore(c => c.CurrentVisits);
        entity.Ignore(c => c.Anaesthetic);
    }
}

internal sealed class CaseHeadConfiguration : IEntityTypeConfiguration<CaseHead>
{
    public void Configure(EntityTypeBuilder<CaseHead> entity)
    {
        entity.ToTable("case_heads");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId");
        entity.Property(head => head.Version).IsConcurrencyToken();
        entity.Property(head => head.Seal).HasMaxLength(64);
        entity.Property(head => head.SiteCode).HasMaxLength(5);
        entity.Property(head => head.SiteDetail).HasMaxLength(200);
        entity.HasIndex("ClinicId", nameof(CaseHead.EndedUtc));
    }
}

internal sealed class EndingConfiguration : IEntityTypeConfiguration<Ending>
{
    public void Configure(EntityTypeBuilder<Ending> entity)
    {
        entity.ToTable("endings");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId");
        entity.Time(nameof(Ending.EndedAt));
        entity.Time(nameof(Ending.RecordedAt));
    }
}

internal sealed class MeasuredDefectConfiguration : IEntityTypeConfiguration<MeasuredDefect>
{
    public void Configure(EntityTypeBuilder<MeasuredDefect> entity)
    {
        entity.ToTable("measured_defects");
        entity.OfCase();
        entity.HasKey("ClinicId", "CaseId", nameof(MeasuredDefect.Ordinal));
        entity.Property(measured => measured.Length).HasColumnName("length_um");
        entity.Property(measured => measured.Width).HasColumnName("width_um");
        entity.Time(nameof(MeasuredDefect.RecordedAt));
    }
}
