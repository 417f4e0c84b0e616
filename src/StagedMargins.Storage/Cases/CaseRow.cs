using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.FollowUp;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Storage.Cases;

/// <summary>
/// How a case stands, for lists, searches and the queue of its writers. Computed from its entries and written with them; it can be
/// thrown away and made again.
/// </summary>
public sealed class CaseRow
{
    /// <summary>The version of how a row is made from a case; it rises with every change of that.</summary>
    public const int PresentFunction = 2;

    private const int WordsForm = 1;

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>The number of the entry that it was made from last.</summary>
    public long Version { get; init; }

    /// <summary>The version of the function that made it.</summary>
    public int MadeBy { get; init; }

    /// <summary>Its number in the clinic.</summary>
    public string CaseNumber { get; init; } = "";

    /// <summary>The clinic's number for the patient, encrypted under the data key of the case.</summary>
    public byte[] PatientRef { get; init; } = [];

    /// <summary>The surgeon, where named.</summary>
    public Guid? SurgeonId { get; init; }

    /// <summary>When it was opened.</summary>
    public ClinicalTime OpenedAt { get; init; }

    /// <summary>The site's code.</summary>
    public string SiteCode { get; init; } = "";

    /// <summary>The side of the body.</summary>
    public BodySide? SiteSide { get; init; }

    /// <summary>The site in words, encrypted under the data key of the case.</summary>
    public byte[]? SiteDetail { get; init; }

    /// <summary>Stages recorded.</summary>
    public int StageCount { get; init; }

    /// <summary>Where the margins stand.</summary>
    public CaseState State { get; init; }

    /// <summary>How many readings that count lack their reader's signature.</summary>
    public int UnsignedReadings { get; init; }

    /// <summary>How many reviews nobody has answered.</summary>
    public int OpenReviews { get; init; }

    /// <summary>The day on which a paused case continues; null where it is not paused.</summary>
    public DateOnly? ContinuesOn { get; init; }

    /// <summary>How it ended; null while it is open.</summary>
    public CaseOutcome? Outcome { get; init; }

    /// <summary>When it ended, UTC.</summary>
    public DateTime? EndedUtc { get; init; }

    /// <summary>When its last entry was written, UTC.</summary>
    public DateTime ChangedUtc { get; init; }

    /// <summary>True once an amendment made a cleared case not clear.</summary>
    public bool Recall { get; init; }

    /// <summary>Days from the end of a cleared case to the visit that decides; null where there is none.</summary>
    public int? FollowedDays { get; init; }

    /// <summary>True where the tumour was found to have come back by then.</summary>
    public bool Recurrence { get; init; }

    /// <summary>The clinic's number for the patient.</summary>
    /// <param name="subject">The case with its data key.</param>
    public string OpenPatientRef(SubjectKey subject) => Open(PatientRef, subject, PatientRefPlace(subject));

    /// <summary>The site in words.</summary>
    /// <param name="subject">The case with its data key.</param>
    public string? OpenSiteDetail(SubjectKey subject) => SiteDetail is null ? null : Open(SiteDetail, subject, SiteDetailPlace(subject));

    /// <summary>True where the words of another row are the same, or were forgotten; ciphertext is never the same twice.</summary>
    /// <param name="other">The other row.</param>
    /// <param name="subject">The case with its data key.</param>
    public bool SaysTheSameAs(CaseRow other, SubjectKey subject) =>
        subject.Key is null || (OpenPatientRef(subject) == other.OpenPatientRef(subject) && OpenSiteDetail(subject) == other.OpenSiteDetail(subject));

    private static string Open(byte[] words, SubjectKey subject, WordsPlace place)
    {
        try
        {
            return subject.Key?.Decrypt(words, place) ?? Sentences.WordsForgotten;
        }
        catch (CryptographicException)
        {
            return Sentences.WordsDamaged;
        }
    }

    private static WordsPlace PatientRefPlace(SubjectKey subject) => subject.Place("cases", WordsForm, "patientRef");

    private static WordsPlace SiteDetailPlace(SubjectKey subject) => subject.Place("cases", WordsForm, "siteDetail");

    /// <summary>The row of a case.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="subject">The case with its data key.</param>
    /// <param name="changedUtc">When its last entry was written here, UTC.</param>
    public static CaseRow Of(SurgicalCase surgicalCase, SubjectKey subject, DateTime changedUtc)
    {
        var followed = FollowedCase.Of(surgicalCase);
        var site = surgicalCase.Facts.Site;
        return new CaseRow
        {
            ClinicId = surgicalCase.ClinicId,
            CaseId = surgicalCase.Id,
            Version = surgicalCase.Version,
            MadeBy = PresentFunction,
            CaseNumber = surgicalCase.CaseNumber,
            PatientRef = subject.Key?.Encrypt(surgicalCase.PatientRef, PatientRefPlace(subject)) ?? [],
            SurgeonId = surgicalCase.SurgeonId,
            OpenedAt = surgicalCase.OpenedAt,
            SiteCode = site.Code,
            SiteSide = site.Side,
            SiteDetail = site.Detail is { } detail ? subject.Key?.Encrypt(detail, SiteDetailPlace(subject)) : null,
            StageCount = surgicalCase.Stages.Count,
            State = surgicalCase.State,
            UnsignedReadings = surgicalCase.ToBeCountersigned().Count,
            OpenReviews = surgicalCase.OpenReviews().Count(),
            ContinuesOn = surgicalCase.Pause?.ContinuesOn,
            Outcome = surgicalCase.Ending?.Outcome,
            EndedUtc = surgicalCase.Ending?.EndedAt.Utc,
            ChangedUtc = changedUtc,
            Recall = surgicalCase.Recall,
            FollowedDays = followed?.Days,
            Recurrence = followed?.Recurrence ?? false,
        };
    }
}

/// <summary>A second read that was asked for. Computed from the entries of its case.</summary>
public sealed class SecondReadRow
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>Its number in the case.</summary>
    public int Number { get; init; }

    /// <summary>The surgeon who was asked.</summary>
    public Guid ReaderId { get; init; }

    /// <summary>The stage of the block.</summary>
    public int StageNumber { get; init; }

    /// <summary>The label of the block.</summary>
    public string BlockLabel { get; init; } = "";

    /// <summary>When it was asked for.</summary>
    public ClinicalTime AskedAt { get; init; }

    /// <summary>True once it was given or given back.</summary>
    public bool IsAnswered { get; set; }

    /// <summary>The second reads of a case.</summary>
    public static IEnumerable<SecondReadRow> AllOf(SurgicalCase surgicalCase) => surgicalCase.SecondReads.Select(read => new SecondReadRow
    {
        ClinicId = surgicalCase.ClinicId,
        CaseId = surgicalCase.Id,
        Number = read.Number,
        ReaderId = read.ReaderId,
        StageNumber = read.StageNumber,
        BlockLabel = read.BlockLabel,
        AskedAt = read.AskedAt,
        IsAnswered = read.Answer is not null || read.IsVoid,
    });
}

internal sealed class CaseRowConfiguration : IEntityTypeConfiguration<CaseRow>
{
    public void Configure(EntityTypeBuilder<CaseRow> entity)
    {
        entity.ToTable("cases");
        entity.HasKey(row => new { row.ClinicId, row.CaseId });
        entity.Property(row => row.CaseId).ValueGeneratedNever();
        entity.Property(row => row.CaseNumber).HasMaxLength(32);
        entity.Property(row => row.SiteCode).HasMaxLength(5);
        entity.Time(nameof(CaseRow.OpenedAt));
        entity.HasIndex(row => new { row.ClinicId, row.CaseNumber }).IsUnique();
        entity.HasIndex(row => new { row.ClinicId, row.EndedUtc });
    }
}

internal sealed class SecondReadRowConfiguration : IEntityTypeConfiguration<SecondReadRow>
{
    public void Configure(EntityTypeBuilder<SecondReadRow> entity)
    {
        entity.ToTable("second_reads");
        entity.HasKey(row => new { row.ClinicId, row.CaseId, row.Number });
        entity.Property(row => row.Number).ValueGeneratedNever();
        entity.Property(row => row.BlockLabel).HasMaxLength(Block.LongestLabel);
        entity.Time(nameof(SecondReadRow.AskedAt));
        entity.HasIndex(row => new { row.ClinicId, row.ReaderId });
    }
}
