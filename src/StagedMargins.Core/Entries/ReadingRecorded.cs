using System.Text.Json.Serialization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A reader's result for one block: the first, or an amendment.</summary>
/// <param name="Id">The reading's own number.</param>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="Outcome">The result.</param>
/// <param name="ReaderId">The surgeon who read the slide.</param>
/// <param name="ReadAt">When.</param>
/// <param name="Findings">What was seen, on the patient's clock face.</param>
/// <param name="Note">The reader's remark.</param>
public abstract record ReadingWritten(
    Guid Id, int Stage, string Block, ReadingOutcome Outcome, Guid ReaderId, ClinicalTime ReadAt, IReadOnlyList<Finding> Findings, Words? Note) : CaseEvent
{
    /// <summary>True where no more tissue is left of what it leaves undecided.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool NoMoreTissue { get; init; }

    /// <summary>The reading that it corrects; null for a first one.</summary>
    internal abstract Guid? Amended { get; }

    /// <summary>Why it corrects one; null for a first one.</summary>
    internal abstract Words? ReasonForAmending { get; }

    /// <summary>Decides that a reading is recorded, or the one that counts amended.</summary>
    /// <param name="state">The case.</param>
    /// <param name="stage">The stage of the block.</param>
    /// <param name="label">The label of the block.</param>
    /// <param name="entry">The reading.</param>
    /// <param name="at">When it is written.</param>
    /// <exception cref="NotInRecordException">There is no such block.</exception>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended, or the block has been read and the reading amends none or another, or gives no reason.</exception>
    public static ReadingWritten Decide(SurgicalCase state, int stage, string label, ReadingEntry entry, ClinicalTime at)
    {
        var readStage = state.StageOf(stage);
        var block = readStage.BlockOf(label);
        if (entry.AmendsId is null && readStage.IsReplaced(block))
        {
            throw new RuleViolationException("blockReplaced", $"The tissue of block {block.Label} was embedded again in another block; read that one.");
        }

        if (entry.Id is { } given && state.Readings().Any(other => other.Id == given))
        {
            throw new RuleViolationException("numberTaken", "The case already has a reading with this number.");
        }

        var findings = FindingPlacement.PlaceAll(readStage, block, entry);
        GuardTurn(block, entry);
        var id = entry.Id ?? Guid.CreateVersion7(at.ToDateTimeOffset());
        var (note, reason) = (Words.Of(FreeText.Optional("note", entry.Note)), Words.Of(FreeText.Optional("reason", entry.Reason)));
        return entry.AmendsId is { } amended
            ? new ReadingAmended(id, stage, label, entry.Outcome, entry.ReaderId, entry.ReadAt, findings, note, amended, reason!) { NoMoreTissue = entry.NoMoreTissue }
            : new ReadingRecorded(id, stage, label, entry.Outcome, entry.ReaderId, entry.ReadAt, findings, note) { NoMoreTissue = entry.NoMoreTissue };
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(
        state,
        Stage,
        Block,
        new ReadingEntry(Outcome, ReaderId, ReadAt, [.. Findings.Select(finding => finding.ToEntry())], Amended, ReasonForAmending?.Text, Note?.Text, Id, NoMoreTissue),
        written.At);

    /// <inheritdoc/>
    public override CaseEvent WithPeople(Func<Guid, Guid> here) => this with { ReaderId = here(ReaderId) };

    /// <inheritdoc/>
    public override IEnumerable<Guid> NamedPeople() => [ReaderId];

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        Amended is null ? ReadingSentenceIn(before) : Sentences.EntryAmended(ReadingSentenceIn(before), Sentences.ReasonGiven(ReasonForAmending?.Text ?? ""));

    private string ReadingSentenceIn(SurgicalCase before) =>
        before.StageOf(Stage) is var stage ? ReadingSentence.Of(stage, stage.BlockOf(Block), new Reading(this, 1, default, 0)) : "";

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state.With(Stage, stage => stage.With(Block, block => block with { Readings = block.Readings.Plus(new Reading(this, block.Readings.Count + 1, written, state.Version + 1)) }));

    private static void GuardTurn(Block block, ReadingEntry entry)
    {
        var counting = block.CountingReading;
        if (counting is null && entry.AmendsId is not null)
        {
            throw new RuleViolationException("nothingToAmend", $"Block {block.Label} has no reading to amend yet.");
        }

        if (counting is not null && entry.AmendsId != counting.Id)
        {
            throw new RuleViolationException("alreadyRead", $"Block {block.Label} has already been read. A further reading must amend the reading that counts and give a reason.");
        }

        if (counting is not null && FreeText.Optional("reason", entry.Reason) is null)
        {
            throw new RuleViolationException("reasonMissing", "An amendment needs a reason.");
        }

        if (block.Readings.Count >= RecordLimits.Readings)
        {
            throw new InvalidEntryException("amends", $"A block has at most {RecordLimits.Readings} readings.");
        }
    }
}

/// <summary>A block was read for the first time.</summary>
/// <inheritdoc/>
public sealed record ReadingRecorded(
    Guid Id, int Stage, string Block, ReadingOutcome Outcome, Guid ReaderId, ClinicalTime ReadAt, IReadOnlyList<Finding> Findings, Words? Note)
    : ReadingWritten(Id, Stage, Block, Outcome, ReaderId, ReadAt, Findings, Note)
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<ReadingRecorded>("recordReading");

    internal override Guid? Amended => null;

    internal override Words? ReasonForAmending => null;
}

/// <summary>The reading of a block that counted was corrected by a further one.</summary>
/// <param name="Id">The reading's own number.</param>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="Outcome">The result.</param>
/// <param name="ReaderId">The surgeon who read the slide.</param>
/// <param name="ReadAt">When.</param>
/// <param name="Findings">What was seen, on the patient's clock face.</param>
/// <param name="Note">The reader's remark.</param>
/// <param name="Amends">The reading that it corrects.</param>
/// <param name="Reason">Why.</param>
public sealed record ReadingAmended(
    Guid Id, int Stage, string Block, ReadingOutcome Outcome, Guid ReaderId, ClinicalTime ReadAt, IReadOnlyList<Finding> Findings, Words? Note, Guid Amends, Words Reason)
    : ReadingWritten(Id, Stage, Block, Outcome, ReaderId, ReadAt, Findings, Note)
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<ReadingAmended>("amendReading", surgeonAlone: true);

    internal override Guid? Amended => Amends;

    internal override Words? ReasonForAmending => Reason;
}
