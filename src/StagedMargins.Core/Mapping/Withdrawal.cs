using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>That something written was withdrawn. It stays in the record and counts no more.</summary>
public sealed class Withdrawal
{
    private readonly Words reason;

    internal Withdrawal(Words reason, Authorship written) => (this.reason, ById, At) = (reason, written.ById, written.At);

    /// <summary>Why.</summary>
    public string Reason => reason.Text;

    /// <summary>By whom.</summary>
    public Guid ById { get; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; }
}
