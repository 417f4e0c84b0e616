using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage;

/// <summary>
/// The clinic that the present work is for. Until it is set nothing of any clinic is seen: every table of a clinic is filtered
/// by it.
/// </summary>
public sealed class ClinicScope
{
    /// <summary>The clinic; empty where none has been set.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>Who is signed in, a person or a token; null where nobody is.</summary>
    public Guid? PersonId { get; set; }

    /// <summary>The look at the case that a request names, which was taken ahead with the check of its sign-in.</summary>
    internal CaseLook? Ahead { get; set; }

    /// <summary>Takes the look that was taken ahead, once; null where it was at another case.</summary>
    internal CaseLook? TakeAhead(Guid caseId)
    {
        var ahead = Ahead?.Kept?.CaseId == caseId ? Ahead : null;
        Ahead = null;
        return ahead;
    }

    /// <summary>Gives what writes the entries of changes of accounts and settings; null where rows are only read or copied.</summary>
    public Func<ChangeEntries>? FindChangeEntries { get; init; }

    /// <summary>Gives the cases that are kept in memory; null where every case is read from its entries.</summary>
    public Func<CaseMemory>? FindMemory { get; init; }

    /// <summary>Gives the keys to what was written in words; null where none of it is read or written.</summary>
    public Func<SubjectKeys>? FindKeys { get; init; }
}
