using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>That a block was sent for permanent sections, as it is taken.</summary>
/// <param name="SentAt">When; now where absent.</param>
/// <param name="Note">What was asked.</param>
public sealed record PermanentSectionBody(DateTimeOffset? SentAt, string? Note)
{
    /// <summary>Enters it in the case.</summary>
    internal PermanentSection Send(Change change, int stage, string block) => change.Log.SendForPermanentSection(
        stage, block, SentAt is { } at ? ClinicalTime.From(at, "sentAt") : change.At, Note, change.ById, change.At);
}

/// <summary>What permanent sections showed, as it is taken.</summary>
/// <param name="Outcome">The result. Required.</param>
/// <param name="ReportedAt">When it was reported; now where absent.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it is entered again; required from the second time on.</param>
/// <param name="Findings">What was seen, placed as in a reading; without one a positive result is of the whole block.</param>
/// <param name="ReportedBy">Who reported it.</param>
/// <param name="Laboratory">The laboratory.</param>
public sealed record PermanentResultBody(
    ReadingOutcome? Outcome, DateTimeOffset? ReportedAt, string? Note, string? Reason, FindingBody?[]? Findings = null, string? ReportedBy = null, string? Laboratory = null)
{
    /// <summary>The result that was taken.</summary>
    /// <exception cref="InvalidRequestException">A field is missing or at fault.</exception>
    public PermanentResultEntry ToEntry(ClinicalTime now)
    {
        var errors = new FieldErrors();
        var at = errors.Collect(null, () => ReportedAt is { } said ? ClinicalTime.From(said, "reportedAt") : now);
        if (Outcome is null)
        {
            errors.Add("outcome", $"Required, one of: {string.Join(", ", EnumNames<ReadingOutcome>.All)}.");
        }

        var findings = ReadingTranslation.ToFindings(Findings, errors);
        errors.ThrowIfAny();
        return new PermanentResultEntry(Outcome!.Value, at, Note, Reason, findings, ReportedBy, Laboratory);
    }
}

/// <summary>A block that was sent for permanent sections, as it is sent.</summary>
/// <param name="Stage">Its stage.</param>
/// <param name="Block">Its label.</param>
/// <param name="SentAt">When it was sent.</param>
/// <param name="Note">What was asked.</param>
/// <param name="Outcome">What it showed; null while that is awaited.</param>
/// <param name="ReportedAt">When that was reported.</param>
/// <param name="ResultNote">A remark on the result.</param>
/// <param name="Reason">Why the result was entered again.</param>
/// <param name="Differs">True where the result is not the one of the reading that counts: the surgeon decides whether to amend it.</param>
public sealed record PermanentSectionView(
    int Stage, string Block, DateTimeOffset SentAt, string? Note, ReadingOutcome? Outcome, DateTimeOffset? ReportedAt, string? ResultNote, string? Reason, bool Differs)
{
    /// <summary>Its number in the case.</summary>
    public required int Id { get; init; }

    /// <summary>What was seen, where places were named.</summary>
    public required FindingView[] Findings { get; init; }

    /// <summary>Who reported the result.</summary>
    public string? ReportedBy { get; init; }

    /// <summary>The laboratory.</summary>
    public string? Laboratory { get; init; }

    /// <summary>True where its block or stage is gone, so that nothing more is awaited.</summary>
    public bool Void { get; init; }

    /// <summary>A block that was sent, as it is sent.</summary>
    public static PermanentSectionView Of(SurgicalCase surgicalCase, PermanentSection sent) => new(
        sent.StageNumber,
        sent.BlockLabel,
        sent.SentAt.ToDateTimeOffset(),
        sent.Note,
        sent.Result?.Outcome,
        sent.Result?.ReportedAt.ToDateTimeOffset(),
        sent.Result?.Note,
        sent.Result?.Reason,
        surgicalCase.PermanentSectionsThatDiffer().Contains(sent))
    {
        Id = sent.Number,
        Findings = [.. (sent.Result?.Findings ?? []).Select(FindingView.Of)],
        ReportedBy = sent.Result?.ReportedBy,
        Laboratory = sent.Result?.Laboratory,
        Void = sent.IsVoid,
    };
}
