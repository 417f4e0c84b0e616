using System.Text.Json.Serialization;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>Whether a case is open.</summary>
public enum CaseStatus
{
    /// <summary>Open.</summary>
    Open,

    /// <summary>To be continued on another day.</summary>
    Paused,

    /// <summary>Ended.</summary>
    Ended,
}

/// <summary>A case as it is sent.</summary>
/// <param name="Id">Its number in the service.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="PatientId">The patient.</param>
/// <param name="PatientRef">The clinic's number for the patient.</param>
/// <param name="SurgeonEmail">The surgeon.</param>
/// <param name="Status">Open or ended.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="EndedAt">When it ended.</param>
/// <param name="Recall">True once an amendment made a cleared case not clear.</param>
/// <param name="OpenedAt">When it was opened.</param>
/// <param name="OpenedBy">By whom.</param>
/// <param name="Site">Where the tumour is.</param>
/// <param name="AreaClass">Area class.</param>
/// <param name="AreaClassReason">Why the area class is another than the site has.</param>
/// <param name="Tumour">What is known of the tumour.</param>
/// <param name="PreOperative">The lesion's size before surgery.</param>
/// <param name="TwelveOClock">Where 12 o'clock points.</param>
/// <param name="WeightKg">The patient's weight, kg.</param>
/// <param name="Immunosuppressed">True where the patient is.</param>
/// <param name="PriorRadiation">True where the site was irradiated.</param>
/// <param name="Indications">Why staged surgery was chosen.</param>
/// <param name="SiteConfirmations">Who confirmed the site before stage 1.</param>
/// <param name="SitePhotos">Photos of the marked site; the last one stands for it.</param>
/// <param name="Stages">Its stages.</param>
/// <param name="Margins">The margins after the last stage.</param>
/// <param name="ToBeCountersigned">Readings that count and lack the reader's signature.</param>
/// <param name="Ending">The end as it was entered.</param>
/// <param name="MeasuredDefect">The wound as last measured.</param>
/// <param name="DefectQuestion">The question where measured and computed defect are more than 25 % apart.</param>
/// <param name="Anaesthetic">Local anaesthetic so far.</param>
/// <param name="Repair">How and when the wound was closed, as last entered.</param>
/// <param name="Visits">Visits after surgery, corrected ones too.</param>
/// <param name="PermanentSections">Blocks sent for permanent sections.</param>
/// <param name="SecondReads">Second reads that were asked for.</param>
/// <param name="UnsignedReadings">How many readings that count lack their reader's signature.</param>
/// <param name="OpenReviews">How many reviews nobody has answered.</param>
/// <param name="ClearedNow">Whether a case that ended as cleared is clear now; null for any other.</param>
/// <param name="WaitsFor">What it waits for first; null where it waits for nothing.</param>
/// <param name="ContinuesOn">The day on which a paused case continues.</param>
/// <param name="SiteConfirmed">True where two people confirmed the site as it stands now.</param>
/// <param name="FollowsCase">The case of which this one treats the recurrence.</param>
/// <param name="Endings">Every end of it, oldest first.</param>
/// <param name="Reviews">Every review that was raised.</param>
/// <param name="WithdrawnStages">Stages that were withdrawn.</param>
public sealed record CaseView(
    Guid Id,
    string CaseNumber,
    Guid PatientId,
    string PatientRef,
    string? SurgeonEmail,
    CaseStatus Status,
    CaseOutcome? Outcome,
    DateTimeOffset? EndedAt,
    bool Recall,
    DateTimeOffset OpenedAt,
    string? OpenedBy,
    SiteBody Site,
    AreaClass? AreaClass,
    string? AreaClassReason,
    TumourBody Tumour,
    SizeBody? PreOperative,
    string TwelveOClock,
    decimal? WeightKg,
    bool? Immunosuppressed,
    bool? PriorRadiation,
    IReadOnlyList<string> Indications,
    SiteConfirmationView[] SiteConfirmations,
    SitePhotoView[] SitePhotos,
    StageView[] Stages,
    MarginsView Margins,
    UnsignedView[] ToBeCountersigned,
    EndingView? Ending,
    MeasuredDefectView? MeasuredDefect,
    string? DefectQuestion,
    AnaestheticView Anaesthetic,
    RepairView? Repair,
    VisitView[] Visits,
    PermanentSectionView[] PermanentSections,
    SecondReadView[] SecondReads,
    int UnsignedReadings,
    int OpenReviews,
    bool? ClearedNow,
    WaitsFor? WaitsFor,
    DateOnly? ContinuesOn,
    bool SiteConfirmed,
    Guid? FollowsCase,
    EndingView[] Endings,
    ReviewView[] Reviews,
    WithdrawnStageView[] WithdrawnStages)
{
    /// <summary>The moment as of which it is sent; absent for now.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public AsOfView? AsOf { get; init; }

    /// <summary>A case as it is sent.</summary>
    public static CaseView Of(SurgicalCase surgicalCase, Overlap overlap, ClinicPeople people)
    {
        var measured = surgicalCase.MeasuredDefects is [.., var last] ? last : null;
        return new CaseView(
            surgicalCase.Id,
            surgicalCase.CaseNumber,
            surgicalCase.PatientId,
            surgicalCase.PatientRef,
            people.EmailOf(surgicalCase.SurgeonId),
            StatusOf(surgicalCase),
            surgicalCase.Ending?.Outcome,
            surgicalCase.Ending?.EndedAt.ToDateTimeOffset(),
            surgicalCase.Recall,
            surgicalCase.OpenedAt.ToDateTimeOffset(),
            people.EmailOf(surgicalCase.OpenedById),
            surgicalCase.Facts.Site.ToBody(),
            surgicalCase.Facts.AreaClass,
            surgicalCase.Facts.AreaClassReason,
            surgicalCase.Facts.Tumour.ToBody(),
            surgicalCase.Facts.PreOperative.ToBody(),
            surgicalCase.TwelveOClock,
            surgicalCase.Facts.WeightGrams / 1000m,
            surgicalCase.Facts.Immunosuppressed,
            surgicalCase.Facts.PriorRadiation,
            surgicalCase.Facts.Indications,
            SiteConfirmationView.AllOf(surgicalCase, people),
            SitePhotoView.AllOf(surgicalCase, people),
            [.. surgicalCase.Stages.Select(stage => StageView.Of(stage, people))],
            MarginsView.Of(surgicalCase.Margins(overlap), surgicalCase, surgicalCase.Stages),
            [.. surgicalCase.ToBeCountersigned().Select(at => new UnsignedView(at.Stage.Number, at.Block.Label, at.Reading.Id, people.EmailOf(at.Reading.ReaderId)))],
            EndingView.Of(surgicalCase.Ending, surgicalCase, people),
            MeasuredDefectView.Of(measured, people),
            measured?.QuestionBeside(Defect.After(surgicalCase.Stages)?.Size),
            AnaestheticView.Of(surgicalCase, people),
            RepairView.Of(surgicalCase, people),
            VisitView.AllOf(surgicalCase, people),
            [.. surgicalCase.PermanentSections.Select(sent => PermanentSectionView.Of(surgicalCase, sent))],
            [.. surgicalCase.SecondReads.Select(read => SecondReadView.Of(surgicalCase, read, people))],
            surgicalCase.ToBeCountersigned().Count,
            surgicalCase.OpenReviews().Count(),
            surgicalCase.ClearedNow,
            PendingStep.Of(surgicalCase, overlap)?.Word,
            surgicalCase.Pause?.ContinuesOn,
            surgicalCase.IsSiteConfirmed(),
            surgicalCase.FollowsCase,
            [.. surgicalCase.Endings.Select(ending => EndingView.Of(ending, surgicalCase, people)!)],
            [.. surgicalCase.Reviews.Select(review => ReviewView.Of(review, people))],
            [.. surgicalCase.WithdrawnStages.Select(withdrawn => WithdrawnStageView.Of(withdrawn, people))]);
    }

    /// <summary>Whether a case is open, paused or ended.</summary>
    public static CaseStatus StatusOf(SurgicalCase surgicalCase) => surgicalCase switch
    {
        { Ending: not null } => CaseStatus.Ended,
        { Pause: not null } => CaseStatus.Paused,
        _ => CaseStatus.Open,
    };
}

/// <summary>A reading that lacks its reader's signature.</summary>
/// <param name="Stage">Its stage.</param>
/// <param name="Block">Its block.</param>
/// <param name="ReadingId">Its number.</param>
/// <param name="ReaderEmail">Who is to sign.</param>
public sealed record UnsignedView(int Stage, string Block, Guid ReadingId, string? ReaderEmail);
