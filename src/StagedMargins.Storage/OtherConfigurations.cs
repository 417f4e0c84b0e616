using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.History;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage;

internal sealed class PersonConfiguration : IEntityTypeConfiguration<Person>
{
    public void Configure(EntityTypeBuilder<Person> entity)
    {
        entity.Property(person => person.DisplayName).HasMaxLength(100);
        entity.HasIndex(person => person.ClinicId);
        entity.HasOne<Clinic>().WithMany().HasForeignKey(person => person.ClinicId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class ClinicConfiguration : IEntityTypeConfiguration<Clinic>
{
    public void Configure(EntityTypeBuilder<Clinic> entity)
    {
        entity.ToTable("clinics");
        entity.Property(clinic => clinic.Id).ValueGeneratedNever();
        entity.Property(clinic => clinic.Name).HasMaxLength(100);
        entity.Property(clinic => clinic.TimeZone).HasMaxLength(64);
        entity.Ignore(clinic => clinic.Overlap);
    }
}

internal sealed class CaseNumberCounterConfiguration : IEntityTypeConfiguration<CaseNumberCounter>
{
    public void Configure(EntityTypeBuilder<CaseNumberCounter> entity)
    {
        entity.ToTable("case_number_counters");
        entity.HasKey(counter => new { counter.ClinicId, counter.Year });
        entity.Property(counter => counter.Last).IsConcurrencyToken();
    }
}

internal sealed class HistoryConfiguration : IEntityTypeConfiguration<HistoryEntry>
{
    public void Configure(EntityTypeBuilder<HistoryEntry> entity)
    {
        entity.ToTable("history");
        entity.HasKey(entry => new { entry.ClinicId, entry.CaseId, entry.Sequence });
        entity.Property(entry => entry.What).HasMaxLength(40);
        entity.Property(entry => entry.PreviousHash).HasMaxLength(64);
        entity.Property(entry => entry.Hash).HasMaxLength(64);
        entity.Property(entry => entry.KeyId).HasMaxLength(32);
        entity.Time(nameof(HistoryEntry.At));
    }
}

internal sealed class KeptAnswerConfiguration : IEntityTypeConfiguration<KeptAnswer>
{
    public void Configure(EntityTypeBuilder<KeptAnswer> entity)
    {
        entity.ToTable("kept_answers");
        entity.HasKey(answer => new { answer.ClinicId, answer.PersonId, answer.Key });
        entity.Property(answer => answer.Key).HasMaxLength(KeptAnswer.LongestKey);
        entity.Property(answer => answer.RequestHash).HasMaxLength(64);
        entity.Property(answer => answer.Location).HasMaxLength(300);
        entity.Time(nameof(KeptAnswer.At));
    }
}
