using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.Ledger;

/// <summary>An entry of the ledger as the database holds it; see <see cref="LedgerEntry"/> for what each part means. Written once.</summary>
public sealed class LedgerRow
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The stream.</summary>
    public string Stream { get; init; } = "";

    /// <summary>The epoch.</summary>
    public int Epoch { get; init; }

    /// <summary>Its place in the stream.</summary>
    public long Number { get; init; }

    /// <summary>The kind of its subject.</summary>
    public string? SubjectKind { get; init; }

    /// <summary>Its subject.</summary>
    public Guid? SubjectId { get; init; }

    /// <summary>Its place among the entries of its subject.</summary>
    public long? SubjectNumber { get; init; }

    /// <summary>What was done, in one word.</summary>
    public string Kind { get; init; } = "";

    /// <summary>The version of the form of its body.</summary>
    public int Form { get; init; }

    /// <summary>The request that wrote it.</summary>
    public Guid RequestId { get; init; }

    /// <summary>When it was written.</summary>
    public ClinicalTime At { get; init; }

    /// <summary>Who wrote it.</summary>
    public Guid ById { get; init; }

    /// <summary>Their name and address as they were then.</summary>
    public string ByName { get; init; } = "";

    /// <summary>Where an imported entry came from, as JSON; see <see cref="EntryOrigin"/>.</summary>
    public string? Origin { get; init; }

    /// <summary>What was decided and said, as JSON; its UTF-8 bytes are sealed.</summary>
    public string Body { get; init; } = "";

    /// <summary>The seal of the entry before it in the stream; empty for the first.</summary>
    public byte[] PreviousHash { get; init; } = [];

    /// <summary>The key that sealed it.</summary>
    public string KeyId { get; init; } = "";

    /// <summary>Its seal.</summary>
    public byte[] Hash { get; init; } = [];

    /// <summary>The row of a sealed entry.</summary>
    public static LedgerRow Of(SealedEntry sealedEntry)
    {
        var entry = sealedEntry.Entry;
        return new LedgerRow
        {
            ClinicId = entry.ClinicId,
            Stream = entry.Stream,
            Epoch = entry.Epoch,
            Number = entry.Number,
            SubjectKind = entry.Subject?.Kind,
            SubjectId = entry.Subject?.Id,
            SubjectNumber = entry.Subject?.Number,
            Kind = entry.Kind,
            Form = entry.Form,
            RequestId = entry.RequestId,
            At = entry.At,
            ById = entry.By.Id,
            ByName = entry.By.Name,
            Origin = entry.Origin,
            Body = Encoding.UTF8.GetString(entry.Body.Span),
            PreviousHash = sealedEntry.PreviousHash.ToArray(),
            KeyId = sealedEntry.KeyId,
            Hash = sealedEntry.Hash.ToArray(),
        };
    }

    /// <summary>The entry of this row, with its seal.</summary>
    public SealedEntry ToEntry() => new(
        new LedgerEntry(
            ClinicId,
            Stream,
            Epoch,
            Number,
            SubjectKind is { } kind && SubjectId is { } id && SubjectNumber is { } number ? new LedgerSubject(kind, id, number) : null,
            Kind,
            Form,
            RequestId,
            At,
            new LedgerAuthor(ById, ByName),
            Origin,
            Encoding.UTF8.GetBytes(Body)),
        PreviousHash,
        KeyId,
        Hash);

    /// <summary>What it says, where that holds no words about a patient.</summary>
    /// <param name="subject">The kind of subject that it is to be about.</param>
    /// <exception cref="JsonException">It is of a kind or form that this version does not know, or not of that form.</exception>
    internal T ReadPlain<T>(string subject) => (T)EntryJson.ReadPlain(subject, Kind, Form, Encoding.UTF8.GetBytes(Body));

    /// <summary>Where it came from; null for an entry that was made here.</summary>
    /// <exception cref="JsonException">It can't be read.</exception>
    public EntryOrigin? ReadOrigin() => Origin is null ? null : JsonSerializer.Deserialize<EntryOrigin>(Origin, EntryJson.Options);

    /// <summary>The address, as it was then, of who decided it: for an imported entry there, else here.</summary>
    public string AuthorAddress() => ReadOrigin()?.ByName ?? LedgerAuthor.AddressIn(ByName);

    /// <summary>Who decided it and when: for an imported entry there, else here.</summary>
    public Authorship Authorship() => ReadOrigin() is { } origin ? new Authorship(origin.ById, origin.At) : new Authorship(ById, At);
}

/// <summary>Where an imported entry came from, as the file says. Its author here is whoever imported it.</summary>
/// <param name="ById">Who wrote it there, as they are known here.</param>
/// <param name="ByName">Their address there.</param>
/// <param name="At">When it was written there.</param>
/// <param name="Sha256">SHA-256 of the file, hexadecimal.</param>
public sealed record EntryOrigin(Guid ById, string ByName, ClinicalTime At, string Sha256);

/// <summary>The end of a stream: its last entry's number and seal.</summary>
public sealed class LedgerHead
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The stream.</summary>
    public string Stream { get; init; } = "";

    /// <summary>The epoch that is being written.</summary>
    public int Epoch { get; set; } = 1;

    /// <summary>The number of the last entry; 0 before the first.</summary>
    public long Number { get; set; }

    /// <summary>The seal of the last entry; empty before the first.</summary>
    public byte[] Hash { get; set; } = [];

    /// <summary>The least <see cref="LedgerLevel"/> of a program that may add to the stream.</summary>
    public int MinWriter { get; set; } = LedgerLevel.Writer;

    /// <summary>The least <see cref="LedgerLevel"/> of a program that reads the stream rightly.</summary>
    public int MinReader { get; set; } = LedgerLevel.Reader;

    /// <summary>The number of the last entry about the clinic itself or its people: what is kept in memory of them holds as long as this stands.</summary>
    public long AdministeredAt { get; set; }
}

/// <summary>
/// What a program understands of the ledger, as one number that rises with each form that an older program would misread. A head keeps
/// the least number that is needed, so that an older program says so instead of writing.
/// </summary>
public static class LedgerLevel
{
    /// <summary>What this program understands.</summary>
    public const int Present = 1;

    /// <summary>What a program must understand to add to what this one wrote.</summary>
    public const int Writer = 1;

    /// <summary>What a program must understand to read what this one wrote.</summary>
    public const int Reader = 1;
}

internal sealed class LedgerRowConfiguration : IEntityTypeConfiguration<LedgerRow>
{
    internal const string Table = "ledger_entries";
    private const int LongestWord = 40;

    public void Configure(EntityTypeBuilder<LedgerRow> entity)
    {
        entity.ToTable(Table);
        entity.HasKey(row => new { row.ClinicId, row.Stream, row.Epoch, row.Number });
        entity.Property(row => row.Epoch).ValueGeneratedNever();
        entity.Property(row => row.Number).ValueGeneratedNever();
        entity.Property(row => row.Stream).HasMaxLength(LongestWord);
        entity.Property(row => row.SubjectKind).HasMaxLength(LongestWord);
        entity.Property(row => row.Kind).HasMaxLength(LongestWord);
        entity.Property(row => row.KeyId).HasMaxLength(LongestWord);
        entity.Time(nameof(LedgerRow.At));
        entity.HasIndex(row => new { row.ClinicId, row.SubjectKind, row.SubjectId, row.SubjectNumber }).IsUnique();
    }
}

internal sealed class LedgerHeadConfiguration : IEntityTypeConfiguration<LedgerHead>
{
    public void Configure(EntityTypeBuilder<LedgerHead> entity)
    {
        entity.ToTable("ledger_heads");
        entity.HasKey(head => new { head.ClinicId, head.Stream });
    }
}
