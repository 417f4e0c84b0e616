namespace StagedMargins.Core.Mapping;

/// <summary>
/// Where a case stands now, in a few words. Everything here follows from the case's entries and is written with them; it is the
/// only part of a case that changes in place, and it carries the version that keeps two writers apart.
/// </summary>
public sealed class CaseHead
{
    internal CaseHead()
    {
        SiteCode = "";
    }

    /// <summary>Rises by one with every entry of the case.</summary>
    public int Version { get; private set; }

    /// <summary>The site's code, for finding the case.</summary>
    public string SiteCode { get; private set; }

    /// <summary>The site in words, for finding the case.</summary>
    public string? SiteDetail { get; private set; }

    /// <summary>Number of stages recorded.</summary>
    public int StageCount { get; private set; }

    /// <summary>Where the margins stand.</summary>
    public CaseState State { get; private set; }

    /// <summary>How the case ended; null while it is open.</summary>
    public CaseOutcome? Outcome { get; private set; }

    /// <summary>When it ended, UTC; null while it is open.</summary>
    public DateTime? EndedUtc { get; private set; }

    /// <summary>True once an amendment made a cleared case not clear. It stays, for the surgeon to act on.</summary>
    public bool Recall { get; private set; }

    /// <summary>The seal over the end of the case's history, by the keeper of the record; empty until it is written.</summary>
    public string Seal { get; private set; } = "";

    /// <summary>Sets the seal of the version at hand.</summary>
    public void SealWith(string seal) => Seal = seal;

    /// <summary>True where what stands here of the case's end and size follows from its entries.</summary>
    public bool IsDerivedFrom(SurgicalCase surgicalCase) =>
        StageCount == surgicalCase.Stages.Count
        && Outcome == surgicalCase.Ending?.Outcome
        && EndedUtc == surgicalCase.Ending?.EndedAt.Utc
        && SiteCode == surgicalCase.Facts.Site.Code
        && SiteDetail == surgicalCase.Facts.Site.Detail
        && State == surgicalCase.Margins(default).State;

    internal void Update(SurgicalCase surgicalCase, CaseState state)
    {
        Recall |= RecallRule.IsRaised(Outcome, before: State, after: state);
        Version++;
        (SiteCode, SiteDetail) = (surgicalCase.Facts.Site.Code, surgicalCase.Facts.Site.Detail);
        StageCount = surgicalCase.Stages.Count;
        State = state;
        Outcome = surgicalCase.Ending?.Outcome;
        EndedUtc = surgicalCase.Ending?.EndedAt.Utc;
    }
}
