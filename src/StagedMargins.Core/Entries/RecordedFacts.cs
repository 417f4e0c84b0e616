using System.Text.Json.Serialization;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Entries;

/// <summary>A site as entries hold it.</summary>
/// <param name="Code">ICD-O-3 topography.</param>
/// <param name="Side">Side of the body.</param>
/// <param name="Detail">The place in words.</param>
public sealed record RecordedSite(string Code, BodySide? Side, Words? Detail)
{
    /// <summary>A site to be stored.</summary>
    public static RecordedSite Of(Site site) => new(site.Code, site.Side, Words.Of(site.Detail));

    /// <summary>The site.</summary>
    public Site Open() => new(Code, Side, Detail?.Text);
}

/// <summary>The facts of a case as entries hold them; see <see cref="CaseFacts"/>.</summary>
/// <param name="Site">Where the tumour is.</param>
/// <param name="AreaClass">Area class, where it was said.</param>
/// <param name="Tumour">What is known of the tumour.</param>
/// <param name="PreOperative">The lesion's size before surgery.</param>
/// <param name="WeightGrams">The patient's weight in grams.</param>
/// <param name="Immunosuppressed">True where the patient is.</param>
/// <param name="PriorRadiation">True where the site was irradiated.</param>
/// <param name="Indications">Why staged surgery was chosen.</param>
/// <param name="AreaClassReason">Why the area class is another than the site has.</param>
public sealed record RecordedFacts(
    RecordedSite Site,
    AreaClass? AreaClass,
    Tumour Tumour,
    PreOperativeSize? PreOperative,
    int? WeightGrams,
    bool? Immunosuppressed,
    bool? PriorRadiation,
    IReadOnlyList<Words> Indications,
    Words? AreaClassReason)
{
    /// <summary>Facts to be stored.</summary>
    public static RecordedFacts Of(CaseFacts facts) => new(
        RecordedSite.Of(facts.Site),
        facts.AreaClass,
        facts.Tumour,
        facts.PreOperative,
        facts.WeightGrams,
        facts.Immunosuppressed,
        facts.PriorRadiation,
        [.. facts.Indications.Select(indication => Words.Of(indication)!)],
        Words.Of(facts.AreaClassReason));

    /// <summary>The facts.</summary>
    public CaseFacts Open() => new(
        Site.Open(), AreaClass, Tumour, PreOperative, WeightGrams, Immunosuppressed, PriorRadiation, [.. Indications.Select(indication => indication.Text)], AreaClassReason?.Text);
}

/// <summary>A block as entries hold it.</summary>
/// <param name="Label">Its label.</param>
/// <param name="Arc">The clock arc it covers; null when it holds the centre of the floor alone.</param>
/// <param name="Centre">True where it includes the middle of the floor.</param>
/// <param name="FromInk">Ink on the edge where its arc begins.</param>
/// <param name="ToInk">Ink on the edge where its arc ends.</param>
/// <param name="PieceNumber">The piece it was cut from, counted from 1.</param>
/// <param name="Shows">Which margins its sections show.</param>
/// <param name="Mirrored">True where its slides show the mirror image.</param>
/// <param name="Cassette">The cassette that it shares.</param>
/// <param name="Replaces">Blocks of its stage whose tissue was embedded again in this one.</param>
public sealed record RecordedBlock(
    string Label,
    ClockArc? Arc,
    bool Centre,
    Words? FromInk,
    Words? ToInk,
    int PieceNumber,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] ShownMargins Shows = ShownMargins.Both,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] bool Mirrored = false,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] string? Cassette = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] IReadOnlyList<string>? Replaces = null)
{
    /// <summary>A block to be stored.</summary>
    /// <param name="entry">The block, checked.</param>
    /// <param name="pieceNumber">The piece it was cut from.</param>
    public static RecordedBlock Of(BlockEntry entry, int pieceNumber) =>
        new(entry.Label, entry.Arc, entry.Centre, Words.Of(entry.FromInk), Words.Of(entry.ToInk), pieceNumber, entry.Shows, entry.Mirrored, entry.Cassette, entry.Replaces is { Count: > 0 } replaced ? replaced : null);

    /// <summary>The block as it was handed in.</summary>
    public BlockEntry Open() => new(Label, Arc, Centre, FromInk?.Text, ToInk?.Text, PieceNumber, Shows, Mirrored, Cassette, Replaces);
}

/// <summary>An alert as entries hold it; the reason that was given for one stands beside them.</summary>
/// <param name="Code">Which.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Region">Where.</param>
public sealed record RecordedAlert(AlertCode Code, Margin? Margin, MarginRegion Region);
