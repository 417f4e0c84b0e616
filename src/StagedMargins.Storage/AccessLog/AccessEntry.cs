using StagedMargins.Core;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.AccessLog;

/// <summary>
/// Someone looked at a case, computed from the entries of the stream of accesses. Written once, never changed; the same person at the
/// same part within a minute is one row.
/// </summary>
public sealed class AccessEntry
{
    /// <summary>The longest word for a part, characters.</summary>
    public const int LongestWhat = 64;

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>The row's own number.</summary>
    public Guid Id { get; init; }

    /// <summary>The number of the entry that holds it, in the stream of accesses.</summary>
    public long EntryNumber { get; init; }

    /// <summary>Its place in that entry, from 1.</summary>
    public int Ordinal { get; init; }

    /// <summary>Who: a person or an API token.</summary>
    public Guid ById { get; init; }

    /// <summary>When, as the clinic's clock showed it.</summary>
    public ClinicalTime At { get; init; }

    /// <summary>What was opened: <c>case</c>, or the part of the address behind the case, such as <c>stages/2/map.png</c>.</summary>
    public string What { get; init; } = "";

    /// <summary>The rows that an entry of the stream of accesses gives.</summary>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="entryNumber">The number of the entry.</param>
    /// <param name="shown">What it holds.</param>
    public static IEnumerable<AccessEntry> AllOf(Guid clinicId, long entryNumber, CasesShown shown) => shown.Openings.Select((opening, i) => new AccessEntry
    {
        ClinicId = clinicId,
        CaseId = opening.CaseId,
        Id = opening.Id,
        EntryNumber = entryNumber,
        Ordinal = i + 1,
        ById = opening.ById,
        At = opening.At,
        What = opening.What,
    });
}
