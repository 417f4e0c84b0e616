using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>A correction of a stage, with what stood before it.</summary>
public sealed class StageCorrection
{
    private readonly StageCorrected corrected;
    private readonly Stage before;

    internal StageCorrection(StageCorrected corrected, Stage before, Authorship written) => (this.corrected, this.before, ById, At) = (corrected, before, written.ById, written.At);

    /// <summary>By whom.</summary>
    public Guid ById { get; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; }

    /// <summary>Why.</summary>
    public string Reason => corrected.Reason.Text;

    /// <summary>What stands now, and for what, for example <c>rim 1:15–2:00 o'clock for rim 7:15–8:00 o'clock</c>.</summary>
    public string InWords() => corrected.ChangesInWords(before);
}

/// <summary>A stage that was withdrawn: as never taken. Its number is free again.</summary>
/// <param name="Stage">The stage as it was, with its readings withdrawn.</param>
/// <param name="Withdrawal">By whom, when and why.</param>
public sealed record WithdrawnStage(Stage Stage, Withdrawal Withdrawal);
