using StagedMargins.Core.Intake;

namespace StagedMargins.Web.Contract;

/// <summary>A case as it is opened.</summary>
/// <param name="PatientRef">The clinic's own number for the patient; no name is needed. Required.</param>
/// <param name="CaseNumber">Unique in the clinic; made where absent.</param>
/// <param name="SurgeonEmail">The surgeon.</param>
/// <param name="Site">Where the tumour is. Required.</param>
/// <param name="AreaClass">H, M or L.</param>
/// <param name="AreaClassReason">Why the area class is another than the site has.</param>
/// <param name="Tumour">What is known of the tumour. Required.</param>
/// <param name="PreOperative">The lesion's size before surgery.</param>
/// <param name="TwelveOClock">Where 12 o'clock of the map points, in words. Required.</param>
/// <param name="WeightKg">The patient's weight, kg.</param>
/// <param name="Immunosuppressed">True where the patient is.</param>
/// <param name="PriorRadiation">True where the site was irradiated.</param>
/// <param name="Indications">Why staged surgery was chosen.</param>
/// <param name="FollowsCase">The case of which this one treats the recurrence.</param>
public sealed record CaseBody(
    string? PatientRef,
    string? CaseNumber,
    string? SurgeonEmail,
    SiteBody? Site,
    AreaClass? AreaClass,
    string? AreaClassReason,
    TumourBody? Tumour,
    SizeBody? PreOperative,
    string? TwelveOClock,
    decimal? WeightKg,
    bool? Immunosuppressed,
    bool? PriorRadiation,
    string?[]? Indications,
    Guid? FollowsCase = null);
