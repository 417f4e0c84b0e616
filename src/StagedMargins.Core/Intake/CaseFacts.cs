using System.Text.Json.Serialization;
using System.Text.RegularExpressions;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Intake;

/// <summary>Side of the body.</summary>
public enum BodySide
{
    /// <summary>The patient's left.</summary>
    Left,

    /// <summary>The patient's right.</summary>
    Right,

    /// <summary>In the middle.</summary>
    Midline,

    /// <summary>The site has no side.</summary>
    NotApplicable,
}

/// <summary>Area of the body by risk of recurrence: high, medium, low.</summary>
public enum AreaClass
{
    /// <summary>High.</summary>
    H,

    /// <summary>Medium.</summary>
    M,

    /// <summary>Low.</summary>
    L,
}

/// <summary>Histological differentiation.</summary>
public enum Differentiation
{
    /// <summary>Well differentiated.</summary>
    Well,

    /// <summary>Moderately differentiated.</summary>
    Moderate,

    /// <summary>Poorly differentiated.</summary>
    Poor,
}

/// <summary>How the tumour's border looks before surgery.</summary>
public enum TumourBorder
{
    /// <summary>Well defined.</summary>
    WellDefined,

    /// <summary>Poorly defined.</summary>
    PoorlyDefined,
}

/// <summary>Involvement of bone.</summary>
public enum BoneInvolvement
{
    /// <summary>None.</summary>
    None,

    /// <summary>Minor erosion.</summary>
    MinorErosion,

    /// <summary>Gross invasion of cortex or marrow.</summary>
    GrossInvasion,

    /// <summary>Invasion of the skull base.</summary>
    SkullBase,
}

/// <summary>Where the tumour is.</summary>
/// <param name="Code">ICD-O-3 topography, for example <c>C44.3</c>.</param>
/// <param name="Side">Side of the body.</param>
/// <param name="Detail">The place in words.</param>
public sealed partial record Site(string Code, BodySide? Side, string? Detail)
{
    /// <summary>Makes a site.</summary>
    /// <exception cref="InvalidEntryException">The code is not of the form of ICD-O-3 topography, or the detail too long.</exception>
    public static Site Of(string? code, BodySide? side, string? detail) => code is not null && CodeForm().IsMatch(code)
        ? new Site(code, side, FreeText.Optional("detail", detail, FreeText.LongestShort))
        : throw new InvalidEntryException("code", "An ICD-O-3 topography code such as C44.3 is required.");

    [GeneratedRegex(@"^C[0-9]{2}\.[0-9]\z", RegexOptions.CultureInvariant)]
    private static partial Regex CodeForm();
}

/// <summary>Perineural invasion known before surgery.</summary>
/// <param name="Present">True where it is.</param>
/// <param name="CalibreMm">Calibre of the largest nerve, mm.</param>
/// <param name="Named">True where a named nerve is involved, clinically or on imaging.</param>
/// <param name="DeeperThanDermis">True where a nerve deeper than the dermis is involved.</param>
public sealed record Perineural(bool Present, Length? CalibreMm, bool? Named, [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] bool? DeeperThanDermis = null);

/// <summary>What is known of the tumour.</summary>
/// <param name="Morphology">ICD-O-3 morphology, for example <c>8070/3</c>.</param>
/// <param name="Recurrent">True where it came back after treatment.</param>
/// <param name="Differentiation">Histological differentiation.</param>
/// <param name="Border">How its border looks.</param>
/// <param name="Depth">Depth of invasion.</param>
/// <param name="DeepestPlane">The deepest plane it invades.</param>
/// <param name="Perineural">Perineural invasion.</param>
/// <param name="Bone">Involvement of bone.</param>
/// <param name="PositiveNodes">True where lymph nodes are involved.</param>
/// <param name="Unresectable">True where it can't be taken out whole.</param>
/// <param name="NevoidBasalCellSyndrome">True where the patient has the syndrome.</param>
public sealed partial record Tumour(
    string Morphology,
    bool? Recurrent,
    Differentiation? Differentiation,
    TumourBorder? Border,
    Length? Depth,
    AnatomicalPlane? DeepestPlane,
    Perineural? Perineural,
    BoneInvolvement? Bone,
    bool? PositiveNodes,
    bool? Unresectable,
    bool? NevoidBasalCellSyndrome)
{
    /// <summary>True for a basal cell tumour (ICD-O-3 morphology 809).</summary>
    public bool IsBasalCell() => Morphology is ['8', '0', '9', ..];

    /// <summary>True for a squamous tumour (ICD-O-3 morphology 805 to 808).</summary>
    public bool IsSquamous() => Morphology is ['8', '0', >= '5' and <= '8', ..];

    /// <summary>Checks a morphology code.</summary>
    /// <exception cref="InvalidEntryException">Not of the form of ICD-O-3 morphology.</exception>
    public static string CheckMorphology(string? code) => code is not null && MorphologyForm().IsMatch(code)
        ? code
        : throw new InvalidEntryException("morphology", "An ICD-O-3 morphology code such as 8090/3 is required.");

    [GeneratedRegex(@"^[89][0-9]{3}/[0-9]\z", RegexOptions.CultureInvariant)]
    private static partial Regex MorphologyForm();
}

/// <summary>The lesion's size before surgery: an ellipse.</summary>
/// <param name="Length">Its length, along the axis.</param>
/// <param name="Width">Its width, at right angles.</param>
/// <param name="Axis">Where its long axis points.</param>
public sealed record PreOperativeSize(Length Length, Length Width, ClockPosition Axis)
{
    /// <summary>Area of the ellipse, mm².</summary>
    public double AreaMm2() => Math.PI * Length.Millimetres * Width.Millimetres / 4;

    /// <summary>The larger of length and width.</summary>
    public Length Largest() => Length >= Width ? Length : Width;
}

/// <summary>What is known of a case at intake.</summary>
/// <param name="Site">Where the tumour is.</param>
/// <param name="AreaClass">Area class, where it was said.</param>
/// <param name="Tumour">What is known of the tumour.</param>
/// <param name="PreOperative">The lesion's size before surgery.</param>
/// <param name="WeightGrams">The patient's weight in grams.</param>
/// <param name="Immunosuppressed">True where the patient is.</param>
/// <param name="PriorRadiation">True where the site was irradiated.</param>
/// <param name="Indications">Why staged surgery was chosen.</param>
/// <param name="AreaClassReason">Why the area class is another than the site has.</param>
public sealed record CaseFacts(
    Site Site,
    AreaClass? AreaClass,
    Tumour Tumour,
    PreOperativeSize? PreOperative,
    int? WeightGrams,
    bool? Immunosuppressed,
    bool? PriorRadiation,
    IReadOnlyList<string> Indications,
    string? AreaClassReason = null)
{
    private const int MostIndications = 30;
    private const int LeastGrams = 300;
    private const int MostGrams = 500_000;

    /// <summary>The same with every part checked.</summary>
    /// <exception cref="InvalidEntryException">A part can't be right.</exception>
    internal CaseFacts Checked()
    {
        Tumour.CheckMorphology(Tumour.Morphology);
        if (WeightGrams is < LeastGrams or > MostGrams)
        {
            throw new InvalidEntryException("weightKg", "A weight must be 0.3 to 500 kg.");
        }

        if (Indications.Count > MostIndications)
        {
            throw new InvalidEntryException("indications", $"At most {MostIndications}.");
        }

        return this with
        {
            Site = CheckedSite(),
            Indications = [.. Indications.Select((text, i) => FreeText.Required($"indications[{i}]", text, FreeText.LongestShort))],
            AreaClassReason = FreeText.Optional("areaClassReason", AreaClassReason, FreeText.LongestShort),
        };
    }

    private Site CheckedSite()
    {
        try
        {
            return Site.Of(Site.Code, Site.Side, Site.Detail);
        }
        catch (InvalidEntryException e)
        {
            throw e.Within("site");
        }
    }
}
