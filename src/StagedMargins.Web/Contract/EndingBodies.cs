using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A measured wound as it is taken.</summary>
/// <param name="LengthMm">Length, mm. Required.</param>
/// <param name="WidthMm">Width, mm. Required.</param>
/// <param name="Plane">The deepest plane.</param>
/// <param name="Reason">Why it is measured or entered again; required from the second time on.</param>
public sealed record MeasuredDefectBody(decimal? LengthMm, decimal? WidthMm, AnatomicalPlane? Plane, string? Reason)
{
    /// <summary>The measurement that was taken.</summary>
    public MeasuredDefectEntry ToEntry() =>
        new(LengthMm.ToLength("lengthMm"), WidthMm.ToLength("widthMm"), Plane, FreeText.Optional("reason", Reason));
}

/// <summary>The end of a case as it is taken.</summary>
/// <param name="Outcome">How it ends. Required.</param>
/// <param name="EndedAt">When; now where absent.</param>
/// <param name="Reason">Why; required when stopped with tumour.</param>
/// <param name="Plan">What follows; required when stopped with tumour.</param>
/// <param name="ContinuesOn">The day it continues.</param>
/// <param name="MeasuredDefect">The wound as measured.</param>
/// <param name="Repair">How the wound is closed.</param>
public sealed record EndBody(
    CaseOutcome? Outcome,
    DateTimeOffset? EndedAt,
    string? Reason,
    string? Plan,
    DateOnly? ContinuesOn,
    MeasuredDefectBody? MeasuredDefect,
    RepairKind? Repair)
{
    /// <summary>Ends the case.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    internal void End(Change change)
    {
        var (ending, measured) = ToEntry(change.At);
        change.Log.End(ending, measured, change.ById, change.At);
    }

    /// <summary>The ending and the measurement that were taken.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    public (EndingEntry Ending, MeasuredDefectEntry? Measured) ToEntry(ClinicalTime now)
    {
        var errors = new FieldErrors();
        var endedAt = errors.Collect(null, () => EndedAt is { } at ? ClinicalTime.From(at, "endedAt") : now);
        var measured = errors.Collect("measuredDefect", () => MeasuredDefect?.ToEntry());
        var isStopped = Outcome is CaseOutcome.StoppedWithTumour or CaseOutcome.StoppedNotCleared;
        errors.Collect(null, () => isStopped || Outcome == CaseOutcome.NotDone ? FreeText.Required("reason", Reason) : FreeText.Optional("reason", Reason));
        errors.Collect(null, () => isStopped ? FreeText.Required("plan", Plan) : FreeText.Optional("plan", Plan));
        if (Outcome is null)
        {
            errors.Add("outcome", $"Required, one of: {string.Join(", ", EnumNames<CaseOutcome>.All)}.");
        }

        if (Outcome == CaseOutcome.ContinuesLater && ContinuesOn is null)
        {
            errors.Add("continuesOn", "A case that continues later needs a date.");
        }

        errors.ThrowIfAny();
        return (new EndingEntry(Outcome!.Value, endedAt, Reason, Plan, ContinuesOn, Repair), measured);
    }
}

/// <summary>The end of a case as it is sent.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="EndedAt">When.</param>
/// <param name="Reason">Why.</param>
/// <param name="Plan">What follows.</param>
/// <param name="ContinuesOn">The day it continues.</param>
/// <param name="Repair">How the wound was closed.</param>
/// <param name="RecordedBy">Who wrote it.</param>
/// <param name="ReopenedAt">When the case was opened again.</param>
/// <param name="ReopenedBy">By whom.</param>
/// <param name="ReopenedReason">Why.</param>
/// <param name="Alerts">What is to be said of it: ended before the last reading.</param>
public sealed record EndingView(
    CaseOutcome Outcome,
    DateTimeOffset EndedAt,
    string? Reason,
    string? Plan,
    DateOnly? ContinuesOn,
    RepairKind? Repair,
    string? RecordedBy,
    DateTimeOffset? ReopenedAt,
    string? ReopenedBy,
    string? ReopenedReason,
    AlertView[] Alerts)
{
    /// <summary>The end as it is sent, or null while the case is open.</summary>
    public static EndingView? Of(Ending? ending, SurgicalCase surgicalCase, ClinicPeople people) => ending is null
        ? null
        : new EndingView(
            ending.Outcome,
            ending.EndedAt.ToDateTimeOffset(),
            ending.Reason,
            ending.Plan,
            ending.ContinuesOn,
            ending.Repair,
            people.EmailOf(ending.RecordedById),
            ending.Reopened?.At.ToDateTimeOffset(),
            people.EmailOf(ending.Reopened?.ById),
            ending.Reopened?.Reason,
            surgicalCase.Readings().Any(reading => reading.ReadAt.Utc > ending.EndedAt.Utc && reading.RecordedAt.Utc <= ending.RecordedAt.Utc)
                ? [AlertView.Of(new MarginAlert(AlertCode.TimesOutOfOrder, null, MarginRegion.None))]
                : []);
}

/// <summary>A measured wound as it is sent.</summary>
/// <param name="LengthMm">Length, mm.</param>
/// <param name="WidthMm">Width, mm.</param>
/// <param name="Plane">The deepest plane.</param>
/// <param name="Reason">Why it was entered again.</param>
/// <param name="RecordedBy">Who entered it.</param>
/// <param name="RecordedAt">When it was entered.</param>
public sealed record MeasuredDefectView(decimal LengthMm, decimal WidthMm, AnatomicalPlane? Plane, string? Reason, string? RecordedBy, DateTimeOffset RecordedAt)
{
    /// <summary>A measurement as it is sent, or null for none.</summary>
    public static MeasuredDefectView? Of(MeasuredDefect? measured, ClinicPeople people) => measured is null
        ? null
        : new MeasuredDefectView(
            measured.Length.ToMm(), measured.Width.ToMm(), measured.Plane, measured.Reason, people.EmailOf(measured.RecordedById), measured.RecordedAt.ToDateTimeOffset());
}
