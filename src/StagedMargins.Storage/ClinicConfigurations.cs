using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Risk;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.AccessLog;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage;

internal sealed class PersonConfiguration : IEntityTypeConfiguration<Person>
{
    public void Configure(EntityTypeBuilder<Person> entity)
    {
        entity.Property(person => person.DisplayName).HasMaxLength(100);
        entity.Property(person => person.PasswordCodeHash).HasMaxLength(OneTimeCode.HashLength);
        entity.HasIndex(person => person.ClinicId);
        entity.HasOne<Clinic>().WithMany().HasForeignKey(person => person.ClinicId).OnDelete(DeleteBehavior.Restrict);
    }
}

// The framework's later schema, which has passkeys, would also give sign-ins by others and tokens new keys; nothing needs those.
internal sealed class PasskeyConfiguration : IEntityTypeConfiguration<IdentityUserPasskey<Guid>>
{
    // As WebAuthn section 4 limits it: 1023 bytes.
    private const int LongestCredentialId = 1023;

    public void Configure(EntityTypeBuilder<IdentityUserPasskey<Guid>> entity)
    {
        entity.ToTable("passkeys");
        entity.HasKey(passkey => passkey.CredentialId);
        entity.Property(passkey => passkey.CredentialId).HasMaxLength(LongestCredentialId);
        entity.OwnsOne(passkey => passkey.Data, data => data.ToJson("data"));
        entity.HasOne<Person>().WithMany().HasForeignKey(passkey => passkey.UserId);
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
        entity.Property(clinic => clinic.SizeBoundary).HasDefaultValue(SizeBoundary.BelongsAbove).HasSentinel(SizeBoundary.BelongsAbove);
        entity.Property(clinic => clinic.MirroredBlocks).HasDefaultValue(false);
        entity.Ignore(clinic => clinic.Overlap);
        entity.ComplexProperty(clinic => clinic.Retention, retention =>
        {
            retention.Property(r => r.SlideYears).HasDefaultValue(Retention.UsualSlideYears);
            retention.Property(r => r.BlockYears).HasDefaultValue(Retention.UsualBlockYears);
            retention.Property(r => r.RecordYears).HasDefaultValue(Retention.UsualRecordYears);
        });
    }
}

internal sealed class ClinicCodeConfiguration : IEntityTypeConfiguration<ClinicCode>
{
    public void Configure(EntityTypeBuilder<ClinicCode> entity)
    {
        entity.ToTable("clinic_codes");
        entity.HasKey(code => code.Hash);
        entity.Property(code => code.Hash).HasMaxLength(OneTimeCode.HashLength);
    }
}

internal sealed class ApiTokenConfiguration : IEntityTypeConfiguration<ApiToken>
{
    public void Configure(EntityTypeBuilder<ApiToken> entity)
    {
        entity.ToTable("api_tokens");
        entity.HasKey(token => new { token.ClinicId, token.Id });
        entity.Property(token => token.Id).ValueGeneratedNever();
        entity.Property(token => token.Name).HasMaxLength(ApiToken.LongestName);
        entity.Property(token => token.RoleWords).HasMaxLength(100);
        entity.Property(token => token.Hash).HasMaxLength(64);
        entity.HasIndex(token => token.Hash);
        entity.HasOne<Clinic>().WithMany().HasForeignKey(token => token.ClinicId);
    }
}

internal sealed class AccessEntryConfiguration : IEntityTypeConfiguration<AccessEntry>
{
    public void Configure(EntityTypeBuilder<AccessEntry> entity)
    {
        entity.ToTable("access_log");
        entity.HasKey(entry => new { entry.ClinicId, entry.CaseId, entry.Id });
        entity.Property(entry => entry.Id).ValueGeneratedNever();
        entity.Property(entry => entry.EntryNumber).ValueGeneratedNever();
        entity.Property(entry => entry.What).HasMaxLength(AccessEntry.LongestWhat);
        entity.HasIndex(entry => new { entry.ClinicId, entry.EntryNumber, entry.Ordinal }).IsUnique();
        entity.Time(nameof(AccessEntry.At));
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

internal sealed class KeptAnswerConfiguration : IEntityTypeConfiguration<KeptAnswer>
{
    public void Configure(EntityTypeBuilder<KeptAnswer> entity)
    {
        entity.ToTable("kept_answers");
        entity.HasKey(answer => new { answer.ClinicId, answer.PersonId, answer.Key });
        entity.Property(answer => answer.Key).HasMaxLength(KeptAnswer.LongestKey);
        entity.Property(answer => answer.RequestPrint).HasMaxLength(100);
        entity.Time(nameof(KeptAnswer.At));
    }
}
