using StagedMargins.Core;

namespace StagedMargins.Storage.History;

/// <summary>
/// One change of a case: who, when, what was entered, and the fingerprint of every row it wrote. Written with the change, in the
/// same transaction; never changed. Each row is sealed together with the seal of the row before it, by a key that is not in the
/// database, so that none can be changed, taken out or put in unseen.
/// </summary>
public sealed class HistoryEntry
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>Its place in the history of the case, from 1. It is the version of the case that the change made.</summary>
    public int Sequence { get; init; }

    /// <summary>When it was written.</summary>
    public ClinicalTime At { get; init; }

    /// <summary>By whom.</summary>
    public Guid ById { get; init; }

    /// <summary>What was done, in one word.</summary>
    public string What { get; init; } = "";

    /// <summary>What was entered, as JSON.</summary>
    public string Content { get; init; } = "";

    /// <summary>The rows that the change wrote, each with its fingerprint, as JSON; see <see cref="RowPrint"/>.</summary>
    public string Rows { get; init; } = "[]";

    /// <summary>The seal of the row before; empty for the first.</summary>
    public string PreviousHash { get; init; } = "";

    /// <summary>Which key sealed it.</summary>
    public string KeyId { get; init; } = "";

    /// <summary>Its seal: HMAC-SHA-256 over everything above, hexadecimal.</summary>
    public string Hash { get; init; } = "";
}
