using System.Collections.Immutable;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Cases;

/// <summary>An entry of a case, read. Immutable; people's words in it are ciphertext that opens when they are asked for.</summary>
/// <param name="Number">Its number in the record of the clinic.</param>
/// <param name="Version">Its number among the entries of the case.</param>
/// <param name="Hash">Its seal.</param>
/// <param name="At">When it was written here.</param>
/// <param name="By">Who wrote it here.</param>
/// <param name="Origin">Where it came from, where it was imported.</param>
/// <param name="Event">What was decided.</param>
/// <param name="BodyLength">The length of its body, bytes.</param>
public sealed record KnownEntry(
    long Number, long Version, ReadOnlyMemory<byte> Hash, ClinicalTime At, LedgerAuthor By, EntryOrigin? Origin, CaseEvent Event, int BodyLength)
{
    /// <summary>Who decided it and when: for an imported entry there, else here.</summary>
    public Authorship Written => Origin is { } origin ? new Authorship(origin.ById, origin.At) : new Authorship(By.Id, At);
}

/// <summary>A case by its entries, which make it once it is asked for. Immutable, so that it can be shared and kept in memory.</summary>
public sealed class KnownCase
{
    // What an entry and what it makes of the case take in memory beside its body, measured.
    private const int BytesOfEntry = 900;

    private readonly ImmutableArray<KnownEntry> entries;
    private SurgicalCase? made;

    /// <summary>A case of which no entry is known yet.</summary>
    public KnownCase(Guid clinicId, Guid caseId)
        : this(clinicId, caseId, [])
    {
    }

    private KnownCase(Guid clinicId, Guid caseId, ImmutableArray<KnownEntry> entries)
    {
        (ClinicId, CaseId, this.entries) = (clinicId, caseId, entries);
    }

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; }

    /// <summary>Its entries, in order.</summary>
    public IReadOnlyList<KnownEntry> Entries => entries;

    /// <summary>How many there are.</summary>
    public int Version => entries.Length;

    /// <summary>What it takes in memory, about, bytes.</summary>
    public long Bytes => entries.Sum(entry => BytesOfEntry + (2L * entry.BodyLength));

    /// <summary>The case that its entries make.</summary>
    /// <exception cref="UnreadableEntryException">One of them does not fit the others.</exception>
    public SurgicalCase Case => made ??= CaseUpTo(Version);

    /// <summary>The case as the first of its entries made it.</summary>
    /// <param name="version">How many of them.</param>
    /// <exception cref="UnreadableEntryException">One of them does not fit the others.</exception>
    public SurgicalCase CaseUpTo(int version)
    {
        var state = SurgicalCase.Unopened(ClinicId, CaseId);
        foreach (var entry in entries.AsSpan(0, version))
        {
            Read(entry.Version, () => state = state.Apply(entry.Event, entry.Written));
        }

        return state;
    }

    /// <summary>The case as it was before a request wrote to it, to which the same request does the same again: its verbs find what they decided then.</summary>
    /// <param name="first">The number of the first entry that the request wrote.</param>
    /// <param name="last">The number of the last.</param>
    public CaseLog LogToRepeat(int first, int last)
    {
        var log = new CaseLog(CaseUpTo(first - 1));
        log.Repeat(entries.Skip(first - 1).Take(last - first + 1).Select(entry => new NewEntry(entry.Event, entry.Written)));
        return log;
    }

    /// <summary>The case by its first entries.</summary>
    /// <param name="version">How many of them.</param>
    public KnownCase UpTo(int version) => new(ClinicId, CaseId, entries[..version]);

    /// <summary>The case with further entries.</summary>
    /// <param name="rows">As the database holds them, in order.</param>
    /// <param name="subject">The case with its data key.</param>
    /// <exception cref="UnreadableEntryException">One of them can't be read.</exception>
    public KnownCase With(IEnumerable<LedgerRow> rows, SubjectKey subject)
    {
        var added = entries.ToBuilder();
        foreach (var row in rows)
        {
            Read(row.SubjectNumber ?? 0, () => added.Add(new KnownEntry(
                row.Number, row.SubjectNumber ?? 0, row.Hash, row.At, new LedgerAuthor(row.ById, row.ByName), row.ReadOrigin(), CaseEntries.EventOf(row, subject), row.Body.Length)));
        }

        return new KnownCase(ClinicId, CaseId, added.ToImmutable());
    }

    /// <summary>The case with further entries, as they were just written.</summary>
    /// <param name="written">The entries.</param>
    /// <param name="now">What they made of the case.</param>
    public KnownCase With(IEnumerable<KnownEntry> written, SurgicalCase now) => new(ClinicId, CaseId, entries.AddRange(written)) { made = now };

    /// <summary>True where the record still has the last entry that is known here, as the first of some rows.</summary>
    internal bool IsFollowedBy(IReadOnlyList<LedgerRow> rows) => rows is [var first, ..] && first.SubjectNumber == Version && first.Hash.AsSpan().SequenceEqual(entries[^1].Hash.Span);

    private static void Read(long number, Action read)
    {
        try
        {
            read();
        }
        catch (Exception e) when (UnreadableEntryException.IsCause(e))
        {
            throw new UnreadableEntryException(number, e);
        }
    }
}
