namespace StagedMargins.Core.Entries;

/// <summary>People were shown cases. Gathered: one entry for what was shown within about two seconds.</summary>
/// <param name="Openings">What was shown to whom.</param>
public sealed record CasesShown(IReadOnlyList<Opening> Openings)
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = new(EntrySubjects.Access, "showCases", 1, typeof(CasesShown));
}

/// <summary>Someone was shown a case.</summary>
/// <param name="Id">Its own id.</param>
/// <param name="CaseId">The case.</param>
/// <param name="ById">Who: a person or a token.</param>
/// <param name="At">When.</param>
/// <param name="What">What of it: <c>case</c>, or the part of the address behind the case.</param>
public sealed record Opening(Guid Id, Guid CaseId, Guid ById, ClinicalTime At, string What);
