using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A repair as it is taken.</summary>
/// <param name="Kind">How the wound was closed. Required.</param>
/// <param name="RepairedOn">On which day. Required.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it corrects what was said before; required where it does.</param>
public sealed record RepairBody(RepairKind? Kind, DateOnly? RepairedOn, string? Note, string? Reason)
{
    /// <summary>The repair that was taken.</summary>
    /// <exception cref="InvalidRequestException">A field is missing.</exception>
    public RepairEntry ToEntry()
    {
        var errors = new FieldErrors();
        if (Kind is null)
        {
            errors.Add("kind", $"Required, one of: {string.Join(", ", EnumNames<RepairKind>.All)}.");
        }

        if (RepairedOn is null)
        {
            errors.Add("repairedOn", "Required, a day such as 2026-03-03.");
        }

        errors.ThrowIfAny();
        return new RepairEntry(Kind!.Value, RepairedOn!.Value, Note, Reason);
    }
}

/// <summary>A repair as it is sent.</summary>
/// <param name="Kind">How the wound was closed.</param>
/// <param name="RepairedOn">On which day; null where only the end of the case names it.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it was entered again.</param>
/// <param name="RecordedBy">Who entered it.</param>
/// <param name="RecordedAt">When it was entered.</param>
/// <param name="Caution">What to know where the margins are not clear.</param>
public sealed record RepairView(RepairKind Kind, DateOnly? RepairedOn, string? Note, string? Reason, string? RecordedBy, DateTimeOffset RecordedAt, string? Caution)
{
    /// <summary>The repair that holds, or null where none was entered.</summary>
    public static RepairView? Of(SurgicalCase surgicalCase, ClinicPeople people)
    {
        var caution = surgicalCase.RepairWarning();
        return surgicalCase switch
        {
            { Repairs: [.., var last] } => new RepairView(last.Kind, last.RepairedOn, last.Note, last.Reason, people.EmailOf(last.RecordedById), last.RecordedAt.ToDateTimeOffset(), caution),
            { Ending: { Repair: { } kind } ending } => new RepairView(kind, null, null, null, people.EmailOf(ending.RecordedById), ending.RecordedAt.ToDateTimeOffset(), caution),
            _ => null,
        };
    }
}

/// <summary>A visit as it is taken.</summary>
/// <param name="VisitedOn">The day. Required.</param>
/// <param name="Recurrence">True where the tumour came back. Required: silence is not a no.</param>
/// <param name="Note">A remark.</param>
/// <param name="Corrects">The number of the visit that this entry stands in place of.</param>
/// <param name="Reason">Why it does; required then.</param>
public sealed record VisitBody(DateOnly? VisitedOn, bool? Recurrence, string? Note, int? Corrects, string? Reason)
{
    /// <summary>The visit that was taken.</summary>
    /// <exception cref="InvalidRequestException">A field is missing.</exception>
    public VisitEntry ToEntry()
    {
        var errors = new FieldErrors();
        if (VisitedOn is null)
        {
            errors.Add("visitedOn", "Required, a day such as 2026-03-03.");
        }

        if (Recurrence is null)
        {
            errors.Add("recurrence", "Required, true or false.");
        }

        errors.ThrowIfAny();
        return new VisitEntry(VisitedOn!.Value, Recurrence!.Value, Note, Corrects, Reason);
    }
}

/// <summary>A visit as it is sent.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="VisitedOn">The day.</param>
/// <param name="Recurrence">True where the tumour came back.</param>
/// <param name="Note">A remark.</param>
/// <param name="Corrects">The visit that it stands in place of.</param>
/// <param name="CorrectedBy">The visit that stands in its place.</param>
/// <param name="Reason">Why it corrects.</param>
/// <param name="RecordedBy">Who entered it.</param>
/// <param name="RecordedAt">When it was entered.</param>
public sealed record VisitView(
    int Number, DateOnly VisitedOn, bool Recurrence, string? Note, int? Corrects, int? CorrectedBy, string? Reason, string? RecordedBy, DateTimeOffset RecordedAt)
{
    /// <summary>A visit as it is sent.</summary>
    public static VisitView Of(SurgicalCase surgicalCase, Visit visit, ClinicPeople people) => new(
        visit.Number,
        visit.VisitedOn,
        visit.Recurrence,
        visit.Note,
        visit.Corrects,
        surgicalCase.Visits.FirstOrDefault(other => other.Corrects == visit.Number)?.Number,
        visit.Reason,
        people.EmailOf(visit.RecordedById),
        visit.RecordedAt.ToDateTimeOffset());

    /// <summary>The visits of a case, in the order they were entered.</summary>
    public static VisitView[] AllOf(SurgicalCase surgicalCase, ClinicPeople people) => [.. surgicalCase.Visits.Select(visit => Of(surgicalCase, visit, people))];
}
