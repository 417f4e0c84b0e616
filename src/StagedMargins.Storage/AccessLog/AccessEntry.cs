using StagedMargins.Core;

namespace StagedMargins.Storage.AccessLog;

/// <summary>Someone looked at a case. Written once, never changed; the same person at the same part within a minute is one row.</summary>
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

    /// <summary>Who: a person or an API token.</summary>
    public Guid ById { get; init; }

    /// <summary>When, as the clinic's clock showed it.</summary>
    public ClinicalTime At { get; init; }

    /// <summary>What was opened: <c>case</c>, or the part of the address behind the case, such as <c>stages/2/map.png</c>.</summary>
    public string What { get; init; } = "";
}
