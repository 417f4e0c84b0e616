using StagedMargins.Core;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Storage.History;

/// <summary>One change of a case: who, when and what. Written with the change, in the same transaction; never changed.</summary>
public sealed class HistoryEntry
{
    /// <summary>The row for a change that was just made to a case.</summary>
    /// <param name="changed">The case, changed.</param>
    /// <param name="what">What was done, in one word.</param>
    /// <param name="content">What was entered, as JSON.</param>
    /// <param name="byId">By whom.</param>
    /// <param name="at">When.</param>
    public static HistoryEntry Of(SurgicalCase changed, string what, string content, Guid byId, ClinicalTime at) => new()
    {
        ClinicId = changed.ClinicId,
        CaseId = changed.Id,
        Sequence = changed.Head.Version,
        At = at,
        ById = byId,
        What = what,
        Content = content,
    };

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; set; }

    /// <summary>Its place in the history of the case, from 1. It is the version of the case that the change made.</summary>
    public int Sequence { get; set; }

    /// <summary>When it was written.</summary>
    public ClinicalTime At { get; set; }

    /// <summary>By whom.</summary>
    public Guid ById { get; set; }

    /// <summary>What was done, in one word.</summary>
    public string What { get; set; } = "";

    /// <summary>What was entered, as JSON.</summary>
    public string Content { get; set; } = "";
}
