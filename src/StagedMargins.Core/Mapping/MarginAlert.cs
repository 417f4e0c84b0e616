namespace StagedMargins.Core.Mapping;

/// <summary>What is said when a layer is recorded, loudest first.</summary>
public enum AlertCode
{
    /// <summary>Positive tissue that this layer did not take.</summary>
    LeftBehind,

    /// <summary>The layer took all positive tissue, but not the whole overlap beside it.</summary>
    ThinOverlap,

    /// <summary>Tissue that no block covers, so that its margin can't be seen.</summary>
    Unmapped,

    /// <summary>Tissue taken outside the target. Information only.</summary>
    BeyondTarget,
}

/// <summary>Something to say about a layer.</summary>
/// <param name="Code">What it is.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Region">Where.</param>
public sealed record MarginAlert(AlertCode Code, Margin Margin, MarginRegion Region)
{
    /// <summary>The alert in a sentence.</summary>
    public string Message() => Code switch
    {
        AlertCode.LeftBehind => $"Tumour left behind: this layer does not take {Region} of the {Name} margin, where tumour was found.",
        AlertCode.ThinOverlap => $"Thin overlap: the tumour's place is taken, but {Region} of the {Name} target beside it is not.",
        AlertCode.Unmapped => $"Not mapped: no block covers {Region} of the {Name} margin. It stays unread until a block is added.",
        _ => $"Beyond the target: {Region} of the {Name} margin was taken outside the target.",
    };

    private string Name => Words<Margin>.Of(Margin);
}
