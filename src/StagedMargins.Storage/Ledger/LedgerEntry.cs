using StagedMargins.Core;

namespace StagedMargins.Storage.Ledger;

/// <summary>A sequence of entries of one clinic, numbered without a gap.</summary>
public static class LedgerStreams
{
    /// <summary>Cases, patients, people and settings.</summary>
    public const string Record = "record";

    /// <summary>Openings, sign-ins, refusals and exports.</summary>
    public const string Access = "access";
}

/// <summary>What an entry is about, and its place among the entries about it.</summary>
/// <param name="Kind">The kind of subject, in one word: <c>case</c>, <c>patient</c>, <c>person</c> or <c>clinic</c>.</param>
/// <param name="Id">Which.</param>
/// <param name="Number">Its place among the entries about this subject, from 1. For a case it is the version of the case.</param>
public sealed record LedgerSubject(string Kind, Guid Id, long Number);

/// <summary>Who wrote an entry, as they were then.</summary>
/// <param name="Id">The person's membership of the clinic, the token, or the service itself.</param>
/// <param name="Name">Name and address as they were when it was written.</param>
public sealed record LedgerAuthor(Guid Id, string Name)
{
    /// <summary>A person of the clinic.</summary>
    public static LedgerAuthor Person(Guid id, string name, string address) => new(id, $"{name} <{address}>");

    /// <summary>The program itself, where nobody is signed in: an operator at the machine, or whoever holds a one-time code.</summary>
    public static readonly LedgerAuthor Service = new(Guid.Empty, "StagedMargins");

    /// <summary>The address in a name; the whole name of another system, which has none.</summary>
    public static string AddressIn(string name) => name.EndsWith('>') && name.LastIndexOf(" <", StringComparison.Ordinal) is >= 0 and var at
        ? name[(at + 2)..^1]
        : name;
}

/// <summary>
/// One entry of the ledger: written once, never changed, and sealed together with the seal of the entry before it. The record is the
/// sequence of its entries; everything else is computed from them.
/// </summary>
/// <param name="ClinicId">The clinic; zero for the service itself.</param>
/// <param name="Stream">One of <see cref="LedgerStreams"/>.</param>
/// <param name="Epoch">Begins at 1 and rises with each restore.</param>
/// <param name="Number">Its place in the stream of the clinic, from 1, without a gap and through all epochs.</param>
/// <param name="Subject">What it is about; null in the stream of accesses.</param>
/// <param name="Kind">What was done, in one word.</param>
/// <param name="Form">The version of the form of its body, from 1.</param>
/// <param name="RequestId">The request that wrote it; what one request wrote belongs together.</param>
/// <param name="At">When it was written.</param>
/// <param name="By">Who wrote it.</param>
/// <param name="Origin">For an imported entry: who wrote it elsewhere, when, and from which file, as JSON; else null.</param>
/// <param name="Body">What was decided and said, as JSON in UTF-8, byte for byte as it is sealed.</param>
public sealed record LedgerEntry(
    Guid ClinicId,
    string Stream,
    int Epoch,
    long Number,
    LedgerSubject? Subject,
    string Kind,
    int Form,
    Guid RequestId,
    ClinicalTime At,
    LedgerAuthor By,
    string? Origin,
    ReadOnlyMemory<byte> Body);

/// <summary>An entry with its seal.</summary>
/// <param name="Entry">The entry.</param>
/// <param name="PreviousHash">The seal of the entry before it in its stream, 32 bytes; empty for the first.</param>
/// <param name="KeyId">The key that sealed it.</param>
/// <param name="Hash">Its seal, 32 bytes.</param>
public sealed record SealedEntry(LedgerEntry Entry, ReadOnlyMemory<byte> PreviousHash, string KeyId, ReadOnlyMemory<byte> Hash);
