namespace StagedMargins.Core.Intake;

/// <summary>A site of skin or of lip or genital skin that staged surgery treats.</summary>
/// <param name="Code">ICD-O-3 topography.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Area">The area class it has until someone says otherwise; null where the code does not tell.</param>
/// <param name="OtherAreas">Parts of the site that belong to another area class, in words; null where there are none.</param>
/// <param name="IsHeadAndNeck">True where the head and neck chapter of AJCC stages squamous tumours of the skin here.</param>
public sealed record SiteEntry(string Code, string Name, AreaClass? Area, string? OtherAreas, bool IsHeadAndNeck);

/// <summary>
/// The sites offered at intake. Codes: ICD-O-3 topography (WHO). Area classes: Connolly and others, appropriate use criteria, J Am
/// Acad Dermatol 2012;67:531–550, read at second hand. A code is coarser than an area; where its parts differ, the higher class of
/// the commoner tumour sites is taken until someone says otherwise (common practice, no source).
/// </summary>
public static class Sites
{
    private const string MostlyHigh = "M for cheek, forehead and jawline";

    /// <summary>Every site, in the order of the codes.</summary>
    public static IReadOnlyList<SiteEntry> All { get; } =
    [
        new("C00.0", "upper lip, vermilion", AreaClass.H, null, true),
        new("C00.1", "lower lip, vermilion", AreaClass.H, null, true),
        new("C00.2", "lip, vermilion, not specified", AreaClass.H, null, true),
        new("C00.6", "commissure of lip", AreaClass.H, null, true),
        new("C00.9", "lip, not specified", AreaClass.H, null, true),
        new("C44.0", "skin of lip", AreaClass.H, null, true),
        new("C44.1", "eyelid", AreaClass.H, null, false),
        new("C44.2", "external ear", AreaClass.H, null, true),
        new("C44.3", "skin of other parts of the face", AreaClass.H, MostlyHigh, true),
        new("C44.4", "skin of scalp and neck", AreaClass.M, null, true),
        new("C44.5", "skin of trunk", AreaClass.L, "H for nipple, areola and perianal skin", false),
        new("C44.6", "skin of upper limb and shoulder", AreaClass.H, "L for arm, forearm and shoulder", false),
        new("C44.7", "skin of lower limb and hip", AreaClass.H, "M for the pretibial surface, L for thigh, calf and hip", false),
        new("C44.8", "overlapping sites of skin", null, null, false),
        new("C44.9", "skin, not specified", null, null, false),
        new("C51.9", "vulva", AreaClass.H, null, false),
        new("C60.9", "penis", AreaClass.H, null, false),
        new("C63.2", "scrotum", AreaClass.H, null, false),
    ];

    /// <summary>The site of a code; null where it is none of the list, though it may be a good code.</summary>
    public static SiteEntry? Find(string code) => All.FirstOrDefault(site => site.Code == code);

    /// <summary>The area class of a case: as it was said, else as its site has it; null where neither tells.</summary>
    public static AreaClass? AreaOf(CaseFacts facts) => facts.AreaClass ?? Find(facts.Site.Code)?.Area;
}
