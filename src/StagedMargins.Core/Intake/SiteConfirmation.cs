using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Intake;

/// <summary>One person's word that the site marked on the patient is the site of the case.</summary>
public sealed class SiteConfirmation
{
    /// <summary>How many people are to confirm the site before stage 1.</summary>
    public const int PeopleNeeded = 2;

    private SiteConfirmation()
    {
        Site = null!;
    }

    internal SiteConfirmation(SiteConfirmed confirmed, int ordinal, Authorship written)
    {
        (Ordinal, Site, Note) = (ordinal, confirmed.Site.Open(), confirmed.Note?.Text);
        (ConfirmedById, ConfirmedAt) = (written.ById, written.At);
    }

    /// <summary>Its place among the confirmations, from 1.</summary>
    public int Ordinal { get; private set; }

    /// <summary>The site that was confirmed. A case whose site was corrected since must be confirmed again.</summary>
    public Site Site { get; private set; }

    /// <summary>How it was confirmed, in words.</summary>
    public string? Note { get; private set; }

    /// <summary>Who confirmed it.</summary>
    public Guid ConfirmedById { get; private set; }

    /// <summary>When.</summary>
    public ClinicalTime ConfirmedAt { get; private set; }
}
