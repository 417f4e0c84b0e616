using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>
/// How a case stands for whoever reads it. The margins alone are arithmetic: clear is said only where every reading that counts is signed
/// and no review is open.
/// </summary>
/// <param name="Margins">Where the margins stand.</param>
/// <param name="UnsignedReadings">How many readings that count lack their reader's signature.</param>
/// <param name="OpenReviews">How many reviews nobody has answered.</param>
public readonly record struct Standing(CaseState Margins, int UnsignedReadings, int OpenReviews)
{
    /// <summary>How a case stands now.</summary>
    public static Standing Of(SurgicalCase surgicalCase) => Of(surgicalCase, surgicalCase.State, surgicalCase.Stages.Count);

    /// <summary>How a case stands after a stage.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="margins">Where its margins stand after that stage.</param>
    /// <param name="stage">The stage.</param>
    public static Standing Of(SurgicalCase surgicalCase, CaseState margins, int stage) =>
        new(margins, surgicalCase.ToBeCountersigned().Count(at => at.Stage.Number <= stage), surgicalCase.OpenReviews().Count());

    /// <summary>True where clear may be said.</summary>
    public bool IsClear => Margins == CaseState.Cleared && UnsignedReadings == 0 && OpenReviews == 0;

    /// <summary>True where the margins are clear as marked and clear may not be said yet.</summary>
    public bool IsClearAsMarked => Margins == CaseState.Cleared && !IsClear;

    /// <summary>The state to be drawn: what is clear as marked alone is drawn as awaiting.</summary>
    public CaseState Shown => IsClearAsMarked ? CaseState.AwaitingReadings : Margins;

    /// <summary>In words, as in the middle of a sentence.</summary>
    public string InWords() => this switch
    {
        { IsClearAsMarked: false } => Terms.Of(Margins),
        { OpenReviews: 0 } => Sentences.ClearUnsigned(UnsignedReadings),
        { UnsignedReadings: 0 } => Sentences.ClearUnderReview(OpenReviews),
        _ => Sentences.ClearUnsignedUnderReview(UnsignedReadings, OpenReviews),
    };
}
