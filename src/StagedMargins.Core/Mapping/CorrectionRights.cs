namespace StagedMargins.Core.Mapping;

/// <summary>Who may put right what. Nothing is ever edited or deleted: a correction is a further entry.</summary>
public static class CorrectionRights
{
    /// <summary>True for who may amend a reading: a surgeon; whoever wrote it down while it is unsigned; anyone who reads the recut of an unreadable block.</summary>
    /// <param name="reading">The reading that counts.</param>
    /// <param name="byId">Who would.</param>
    /// <param name="isSurgeon">True for a surgeon.</param>
    public static bool MayAmend(Reading reading, Guid byId, bool isSurgeon) => isSurgeon || reading.Outcome == ReadingOutcome.Unreadable || IsOwnUnsigned(reading, byId);

    /// <summary>True for who may withdraw a reading: a surgeon; whoever wrote it down while it is unsigned.</summary>
    /// <inheritdoc cref="MayAmend"/>
    public static bool MayWithdraw(Reading reading, Guid byId, bool isSurgeon) => isSurgeon || IsOwnUnsigned(reading, byId);

    /// <summary>True for who may correct a stage: a surgeon; whoever recorded it, until one of its readings is signed.</summary>
    /// <param name="stage">The stage.</param>
    /// <param name="byId">Who would.</param>
    /// <param name="isSurgeon">True for a surgeon.</param>
    public static bool MayCorrect(Stage stage, Guid byId, bool isSurgeon) =>
        isSurgeon || (stage.RecordedById == byId && stage.Blocks.SelectMany(block => block.Readings).All(reading => reading.SignedById is null));

    private static bool IsOwnUnsigned(Reading reading, Guid byId) => reading.RecordedById == byId && reading.SignedById is null;
}
