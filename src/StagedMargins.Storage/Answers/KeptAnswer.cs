using StagedMargins.Core;

namespace StagedMargins.Storage.Answers;

/// <summary>
/// The answer that a write gave under an idempotency key, kept with the write in the same transaction, so that the same request
/// sent again gets the same answer and changes nothing.
/// </summary>
public sealed class KeptAnswer
{
    /// <summary>The longest key, in characters.</summary>
    public const int LongestKey = 200;

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>Who sent it; a key is one person's own.</summary>
    public Guid PersonId { get; set; }

    /// <summary>The key.</summary>
    public string Key { get; set; } = "";

    /// <summary>SHA-256 of the method, path and body, so that the key can't be used for another request.</summary>
    public string RequestHash { get; set; } = "";

    /// <summary>The status of the answer.</summary>
    public int Status { get; set; }

    /// <summary>Where what was made is found.</summary>
    public string? Location { get; set; }

    /// <summary>The version of the case after the write.</summary>
    public int Version { get; set; }

    /// <summary>The case that was written to.</summary>
    public Guid CaseId { get; set; }

    /// <summary>The body of the answer, JSON, encrypted under the data key of the case.</summary>
    public byte[] Body { get; set; } = [];

    /// <summary>When.</summary>
    public ClinicalTime At { get; set; }
}
