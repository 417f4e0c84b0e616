using System.Text.Json.Serialization;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A site as it is sent and taken.</summary>
/// <param name="Code">ICD-O-3 topography. Required.</param>
/// <param name="Side">Side of the body.</param>
/// <param name="Detail">The place in words.</param>
public sealed record SiteBody(string? Code, BodySide? Side, string? Detail);

/// <summary>Perineural invasion as it is sent and taken.</summary>
/// <param name="Present">True where it is.</param>
/// <param name="CalibreMm">Calibre of the largest nerve, mm.</param>
/// <param name="Named">True where a named nerve is involved, clinically or on imaging.</param>
/// <param name="DeeperThanDermis">True where a nerve deeper than the dermis is involved.</param>
public sealed record PerineuralBody(
    bool? Present, decimal? CalibreMm, bool? Named, [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] bool? DeeperThanDermis = null);

/// <summary>A tumour as it is sent and taken.</summary>
/// <param name="Morphology">ICD-O-3 morphology. Required.</param>
/// <param name="Recurrent">True where it came back after treatment.</param>
/// <param name="Differentiation">Histological differentiation.</param>
/// <param name="Border">How its border looks.</param>
/// <param name="DepthMm">Depth of invasion, mm.</param>
/// <param name="DeepestPlane">The deepest plane it invades.</param>
/// <param name="Perineural">Perineural invasion.</param>
/// <param name="Bone">Involvement of bone.</param>
/// <param name="PositiveNodes">True where lymph nodes are involved.</param>
/// <param name="Unresectable">True where it can't be taken out whole.</param>
/// <param name="NevoidBasalCellSyndrome">True where the patient has the syndrome.</param>
public sealed record TumourBody(
    string? Morphology,
    bool? Recurrent,
    Differentiation? Differentiation,
    TumourBorder? Border,
    decimal? DepthMm,
    AnatomicalPlane? DeepestPlane,
    PerineuralBody? Perineural,
    BoneInvolvement? Bone,
    bool? PositiveNodes,
    bool? Unresectable,
    bool? NevoidBasalCellSyndrome);

/// <summary>The lesion's size before surgery as it is sent and taken.</summary>
/// <param name="LengthMm">Length, mm.</param>
/// <param name="WidthMm">Width, mm.</param>
/// <param name="Axis">Where its length points, HH:MM; 12:00 where absent.</param>
public sealed record SizeBody(decimal? LengthMm, decimal? WidthMm, string? Axis);

/// <summary>Turns what is known at intake between its form over HTTP and its meaning.</summary>
internal static class FactsTranslation
{
    private const int MostIndications = 30;

    /// <summary>The case that was entered, without its surgeon, and the number that was asked for.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    internal static (NewCase Opening, string? WantedNumber) ToOpening(this CaseBody body)
    {
        var errors = new FieldErrors();
        var facts = body.ToFacts(errors);
        var patientRef = errors.Collect(null, () => FreeText.Required("patientRef", body.PatientRef, 64));
        var twelve = errors.Collect(null, () => FreeText.Required("twelveOClock", body.TwelveOClock, FreeText.LongestShort));
        var wantedNumber = errors.Collect(null, () => string.IsNullOrWhiteSpace(body.CaseNumber) ? null : SurgicalCase.CheckNumber(body.CaseNumber.Trim()));
        errors.ThrowIfAny();
        return (new NewCase(patientRef, null, facts, twelve, FollowsCase: body.FollowsCase), wantedNumber);
    }

    /// <summary>The surgeon that was named, or null.</summary>
    /// <exception cref="InvalidEntryException">Nobody of that address is a surgeon at work here.</exception>
    internal static Guid? SurgeonOf(this CaseBody body, ClinicPeople people) =>
        body.SurgeonEmail is { } email ? people.SurgeonOf("surgeonEmail", email) : null;

    internal static CaseFacts ToFacts(this CaseBody body, FieldErrors errors)
    {
        var site = errors.Collect("site", () => Site.Of(body.Site?.Code, body.Site?.Side, body.Site?.Detail));
        var tumour = errors.Collect("tumour", () => ToTumour(body.Tumour));
        var size = errors.Collect("preOperative", () => ToSize(body.PreOperative));
        var weight = errors.Collect(null, () => ToGrams(body.WeightKg));
        var indications = errors.Collect(null, () => ToIndications(body.Indications));
        var areaReason = errors.Collect(null, () => FreeText.Optional("areaClassReason", body.AreaClassReason, FreeText.LongestShort));
        return new CaseFacts(site!, body.AreaClass, tumour!, size, weight, body.Immunosuppressed, body.PriorRadiation, indications ?? [], areaReason);
    }

    internal static SiteBody ToBody(this Site site) => new(site.Code, site.Side, site.Detail);

    internal static SizeBody? ToBody(this PreOperativeSize? size) =>
        size is null ? null : new SizeBody(size.Length.ToMm(), size.Width.ToMm(), size.Axis.ToString());

    internal static TumourBody ToBody(this Tumour tumour) => new(
        tumour.Morphology,
        tumour.Recurrent,
        tumour.Differentiation,
        tumour.Border,
        tumour.Depth?.ToMm(),
        tumour.DeepestPlane,
        tumour.Perineural is { } nerve ? new PerineuralBody(nerve.Present, nerve.CalibreMm?.ToMm(), nerve.Named, nerve.DeeperThanDermis) : null,
        tumour.Bone,
        tumour.PositiveNodes,
        tumour.Unresectable,
        tumour.NevoidBasalCellSyndrome);

    /// <summary>A length in millimetres as it is sent.</summary>
    internal static decimal ToMm(this Length length) => length.Micrometres / 1000m;

    /// <summary>A length that was taken in millimetres.</summary>
    internal static Length ToLength(this decimal? mm, string field) => OptionalLength(mm, field) ?? throw new InvalidEntryException(field, "Required.");

    private static Length? OptionalLength(decimal? mm, string field)
    {
        try
        {
            return mm is { } known ? Length.FromMillimetres(known) : null;
        }
        catch (InvalidEntryException e)
        {
            throw new InvalidEntryException(field, e.Message);
        }
    }

    /// <summary>A clock position that may be left out.</summary>
    internal static ClockPosition ToPosition(this string? text, string field) => text is null
        ? ClockPosition.Twelve
        : ClockPosition.TryParse(text, out var position)
            ? position
            : throw new InvalidEntryException(field, ClockPosition.Form);

    private static Tumour ToTumour(TumourBody? body) => new(
        Tumour.CheckMorphology(body?.Morphology),
        body!.Recurrent,
        body.Differentiation,
        body.Border,
        OptionalLength(body.DepthMm, "depthMm"),
        body.DeepestPlane,
        body.Perineural is { } nerve
            ? new Perineural(
                nerve.Present ?? throw new InvalidEntryException("perineural.present", "Required."), OptionalLength(nerve.CalibreMm, "perineural.calibreMm"), nerve.Named, nerve.DeeperThanDermis)
            : null,
        body.Bone,
        body.PositiveNodes,
        body.Unresectable,
        body.NevoidBasalCellSyndrome);

    private static PreOperativeSize? ToSize(SizeBody? body) =>
        body is null ? null : new PreOperativeSize(body.LengthMm.ToLength("lengthMm"), body.WidthMm.ToLength("widthMm"), body.Axis.ToPosition("axis"));

    private static int? ToGrams(decimal? kg) => kg is null or (>= 0.3m and <= 500m)
        ? (int?)(kg * 1000)
        : throw new InvalidEntryException("weightKg", "A weight must be 0.3 to 500 kg.");

    private static List<string> ToIndications(string?[]? texts)
    {
        if (texts is { Length: > MostIndications })
        {
            throw new InvalidEntryException("indications", $"At most {MostIndications}.");
        }

        return [.. (texts ?? []).Select((text, i) => FreeText.Required($"indications[{i}]", text, FreeText.LongestShort))];
    }
}
