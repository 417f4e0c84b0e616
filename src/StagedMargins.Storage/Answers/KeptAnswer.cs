using StagedMargins.Core;

namespace StagedMargins.Storage.Answers;

/// <summary>
/// What a write under an idempotency key did, kept with the write in the same transaction, so that the same request sent again gets the
/// same answer and changes nothing. The answer itself is worked out from the entries.
/// </summary>
public sealed class KeptAnswer
{
    /// <summary>The longest key, in characters.</summary>
    public const int LongestKey = 200;

    /// <summary>How long it is kept.</summary>
    public static readonly TimeSpan KeptFor = TimeSpan.FromDays(30);

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>Who sent it; a key is one person's own.</summary>
    public Guid PersonId { get; init; }

    /// <summary>The key.</summary>
    public string Key { get; init; } = "";

    /// <summary>The fingerprint of the request, so that the key can't be used for another: the name of the key it was made with, a colon, and HMAC-SHA-256, hexadecimal.</summary>
    public string RequestPrint { get; init; } = "";

    /// <summary>The case that was written to.</summary>
    public Guid CaseId { get; init; }

    /// <summary>The number, among the entries of the case, of the first that it wrote.</summary>
    public int First { get; init; }

    /// <summary>The number of the last, which is the version of the case after the write.</summary>
    public int Last { get; init; }

    /// <summary>The status of the answer.</summary>
    public int Status { get; init; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; init; }
}
