using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>Facts as they are corrected: those that changed, with the reason. A fact that is left out stays.</summary>
/// <param name="Site">Where the tumour is; a part left out stays.</param>
/// <param name="AreaClass">H, M or L.</param>
/// <param name="AreaClassReason">Why the area class is another than the site has.</param>
/// <param name="Tumour">What is known of the tumour; a part left out stays.</param>
/// <param name="PreOperative">The lesion's size before surgery, whole.</param>
/// <param name="WeightKg">The patient's weight, kg.</param>
/// <param name="Immunosuppressed">True where the patient is.</param>
/// <param name="PriorRadiation">True where the site was irradiated.</param>
/// <param name="Indications">Why staged surgery was chosen, all of them.</param>
/// <param name="Reason">Why they are corrected. Required.</param>
/// <param name="PatientRef">The clinic's number for the patient, where the case is about another one.</param>
/// <param name="SurgeonEmail">The surgeon.</param>
/// <param name="TwelveOClock">Where 12 o'clock of the map points.</param>
public sealed record FactsCorrectionBody(
    SiteBody? Site,
    AreaClass? AreaClass,
    string? AreaClassReason,
    TumourBody? Tumour,
    SizeBody? PreOperative,
    decimal? WeightKg,
    bool? Immunosuppressed,
    bool? PriorRadiation,
    string?[]? Indications,
    string? Reason,
    string? PatientRef = null,
    string? SurgeonEmail = null,
    string? TwelveOClock = null)
{
    /// <summary>True where it changes whom or where the case is about, so that after stage 1 a surgeon has to do it.</summary>
    public bool ChangesIdentity(SurgicalCase surgicalCase) =>
        (PatientRef is not null && PatientRef != surgicalCase.PatientRef)
        || (TwelveOClock is not null && TwelveOClock != surgicalCase.TwelveOClock)
        || (Site is { } site && ((site.Code is { } code && code != surgicalCase.Facts.Site.Code) || (site.Side is { } side && side != surgicalCase.Facts.Site.Side)));

    /// <summary>All facts of a case with these changes, in the form that a case is opened with.</summary>
    public CaseBody Over(SurgicalCase surgicalCase)
    {
        var (site, tumour) = (surgicalCase.Facts.Site.ToBody(), surgicalCase.Facts.Tumour.ToBody());
        return new CaseBody(
            surgicalCase.PatientRef,
            null,
            null,
            Site is null ? site : new SiteBody(Site.Code ?? site.Code, Site.Side ?? site.Side, Site.Detail ?? site.Detail),
            AreaClass ?? surgicalCase.Facts.AreaClass,
            AreaClassReason ?? surgicalCase.Facts.AreaClassReason,
            Tumour is null ? tumour : Merge(tumour, Tumour),
            PreOperative ?? surgicalCase.Facts.PreOperative.ToBody(),
            surgicalCase.TwelveOClock,
            WeightKg ?? surgicalCase.Facts.WeightGrams / 1000m,
            Immunosuppressed ?? surgicalCase.Facts.Immunosuppressed,
            PriorRadiation ?? surgicalCase.Facts.PriorRadiation,
            Indications ?? [.. surgicalCase.Facts.Indications]);
    }

    /// <summary>Corrects the facts of the case.</summary>
    /// <exception cref="Problems.InvalidRequestException">A field is missing or at fault.</exception>
    internal void Correct(Change change, SizeBoundary boundary)
    {
        var errors = new FieldErrors();
        var facts = Over(change.Case).ToFacts(errors);
        var reason = errors.Collect(null, () => FreeText.Required("reason", Reason));
        var surgeon = errors.Collect(null, () => SurgeonEmail is { } email ? change.People.SurgeonOf("surgeonEmail", email) : (Guid?)null);
        errors.ThrowIfAny();
        var isOtherPatient = PatientRef is not null && PatientRef != change.Case.PatientRef;
        var identity = new IdentityCorrection(
            isOtherPatient ? change.PatientId : null,
            isOtherPatient ? PatientRef : null,
            surgeon == change.Case.SurgeonId ? null : surgeon,
            TwelveOClock == change.Case.TwelveOClock ? null : TwelveOClock);
        change.Log.CorrectFacts(facts, reason, boundary, change.ById, change.At, identity);
    }

    private static TumourBody Merge(TumourBody known, TumourBody changed) => new(
        changed.Morphology ?? known.Morphology,
        changed.Recurrent ?? known.Recurrent,
        changed.Differentiation ?? known.Differentiation,
        changed.Border ?? known.Border,
        changed.DepthMm ?? known.DepthMm,
        changed.DeepestPlane ?? known.DeepestPlane,
        changed.Perineural ?? known.Perineural,
        changed.Bone ?? known.Bone,
        changed.PositiveNodes ?? known.PositiveNodes,
        changed.Unresectable ?? known.Unresectable,
        changed.NevoidBasalCellSyndrome ?? known.NevoidBasalCellSyndrome);
}
