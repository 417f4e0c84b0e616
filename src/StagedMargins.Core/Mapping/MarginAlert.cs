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
        AlertCode.LeftBehind => $"Tumour left behind: this layer does not take {Region} of the {Name} margin, where tumour was found.",
        AlertCode.SiteNotConfirmed => $"Site not confirmed: this first layer was recorded before two people confirmed the site. Check site and side now. {(Reason is null ? "No reason was given." : $"Reason given: {Reason}")}",
        AlertCode.ThinOverlap => $"Thin overlap: the tumour's place is taken, but {Region} of the {Name} target beside it is not.",
        AlertCode.Unmapped => $"Not mapped: no block covers {Region} of the {Name} margin. It stays unread until a block is added.",
        _ => $"Beyond the target: {Region} of the {Name} margin was taken outside the target.",
    };

    private string Name => Margin is { } margin ? EnumNames<Margin>.Of(margin) : "";
}
