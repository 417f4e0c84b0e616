using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Intake;

/// <summary>One person's word that the site marked on the patient is the site of the case.</summary>
public sealed class SiteConfirmation
{
    /// <summary>How many people are to confirm the site before stage 1.</summary>
    public const int PeopleNeeded = 2;

    private readonly SiteConfirmed confirmed;

    internal SiteConfirmation(SiteConfirmed confirmed, int ordinal, Authorship written, int version)
    {
        (this.confirmed, Ordinal, ConfirmedById, ConfirmedAt, Version) = (confirmed, ordinal, written.ById, written.At, version);
    }

    /// <summary>Its place among the confirmations, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>The site that was confirmed. A case whose site was corrected since must be confirmed again.</summary>
    public Site Site => confirmed.Site.Open();

    /// <summary>How it was confirmed, in words.</summary>
    public string? Note => confirmed.Note?.Text;

    /// <summary>The number of its entry in the case.</summary>
    public int Version { get; }

    /// <summary>Who confirmed it.</summary>
    public Guid ConfirmedById { get; }

    /// <summary>When.</summary>
    public ClinicalTime ConfirmedAt { get; }
}
