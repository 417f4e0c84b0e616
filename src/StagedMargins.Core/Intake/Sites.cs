using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Intake;

/// <summary>A site of skin or of lip or genital skin that staged surgery treats.</summary>
/// <param name="Code">ICD-O-3 topography.</param>
/// <param name="Area">The area class it has until someone says otherwise; null where the code does not tell.</param>
/// <param name="IsHeadAndNeck">True where the head and neck chapter of AJCC stages squamous tumours of the skin here.</param>
public sealed record SiteEntry(string Code, AreaClass? Area, bool IsHeadAndNeck)
{
    /// <summary>Its name in words.</summary>
    public string Name => Terms.OfSite(Code);
}

/// <summary>
/// The sites offered at intake. Codes: ICD-O-3 topography (WHO). Area classes: Connolly and others, appropriate use criteria, J Am
/// Acad Dermatol 2012;67:531–550, read at second hand. A code is coarser than an area; where its parts differ, the higher class of
/// the commoner tumour sites is taken until someone says otherwise (common practice, no source).
/// </summary>
public static class Sites
{
    /// <summary>Every site, in the order of the codes.</summary>
    public static IReadOnlyList<SiteEntry> All { get; } =
    [
        new("C00.0", AreaClass.H, true),
        new("C00.1", AreaClass.H, true),
        new("C00.2", AreaClass.H, true),
        new("C00.6", AreaClass.H, true),
        new("C00.9", AreaClass.H, true),
        new("C44.0", AreaClass.H, true),
        new("C44.1", AreaClass.H, false),
        new("C44.2", AreaClass.H, true),
        // M for cheek, forehead and jawline.
        new("C44.3", AreaClass.H, true),
        new("C44.4", AreaClass.M, true),
        // H for nipple, areola and perianal skin.
        new("C44.5", AreaClass.L, false),
        // L for arm, forearm and shoulder.
        new("C44.6", AreaClass.H, false),
        // M for the pretibial surface, L for thigh, calf and hip.
        new("C44.7", AreaClass.H, false),
        new("C44.8", null, false),
        new("C44.9", null, false),
        new("C51.9", AreaClass.H, false),
        new("C60.9", AreaClass.H, false),
        new("C63.2", AreaClass.H, false),
    ];

    /// <summary>The site of a code; null where it is none of the list, though it may be a good code.</summary>
    public static SiteEntry? Find(string code) => All.FirstOrDefault(site => site.Code == code);

    /// <summary>The area class of a case: as it was said, else as its site has it; null where neither tells.</summary>
    public static AreaClass? AreaOf(CaseFacts facts) => facts.AreaClass ?? Find(facts.Site.Code)?.Area;
}
