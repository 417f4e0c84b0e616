using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>What is said when a layer is recorded, loudest first.</summary>
public enum AlertCode
{
    /// <summary>Positive tissue that this layer did not take.</summary>
    LeftBehind,

    /// <summary>The first layer was taken though two people had not confirmed the site.</summary>
    SiteNotConfirmed,

    /// <summary>The layer took all positive tissue, but not the whole overlap beside it.</summary>
    ThinOverlap,

    /// <summary>Tissue that no block covers, so that its margin can't be seen.</summary>
    Unmapped,

    /// <summary>Two pieces of one layer renew the same place; both must be seen.</summary>
    PiecesOverlap,

    /// <summary>The inks of a block don't tell its two ends apart, or contradict those of the block beside it.</summary>
    InksUnclear,

    /// <summary>A rim of an unusual width, or a first layer smaller than the lesion.</summary>
    UnusualSize,

    /// <summary>Times that can't all be right.</summary>
    TimesOutOfOrder,

    /// <summary>Tissue taken outside the target. Information only.</summary>
    BeyondTarget,
}

/// <summary>Something to say about a layer.</summary>
/// <param name="Code">What it is.</param>
/// <param name="Margin">On which margin; null where it is of the whole layer.</param>
/// <param name="Region">Where.</param>
/// <param name="Reason">The reason that was given for it, where one was.</param>
public sealed record MarginAlert(AlertCode Code, Margin? Margin, MarginRegion Region, string? Reason = null)
{
    /// <summary>The alert in a sentence.</summary>
    public string Message() => Code switch
    {
        AlertCode.LeftBehind => Sentences.LeftBehind(MarginName, Region.InSentence()),
        AlertCode.SiteNotConfirmed => Sentences.SiteNotConfirmed(Reason is null ? Sentences.NoReasonGiven : Sentences.ReasonGiven(Reason)),
        AlertCode.ThinOverlap => Sentences.ThinOverlap(MarginName, Region.InSentence()),
        AlertCode.Unmapped => Sentences.Unmapped(MarginName, Region.InSentence()),
        AlertCode.PiecesOverlap => Sentences.PiecesOverlap(MarginName, Region.InSentence()),
        AlertCode.InksUnclear => Sentences.InksUnclear(Region.InSentence()),
        AlertCode.UnusualSize when Region.IsEmpty => Sentences.SmallerThanLesion,
        AlertCode.UnusualSize => Sentences.UnusualWidth(Region.InSentence()),
        AlertCode.TimesOutOfOrder => Sentences.TimesOutOfOrder,
        _ => Sentences.BeyondTarget(MarginName, Region.InSentence()),
    };

    private string MarginName => Margin is { } margin ? Terms.Of(margin) : "";
}
