using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>A reading as one sentence, to be read back before it is saved and found again after.</summary>
public static class ReadingSentence
{
    /// <summary>For example <c>Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock.</c></summary>
    public static string Of(Stage stage, Block block, Reading reading)
    {
        var findings = reading.Places().Select(found => Sentences.At(Of(found.Kind), Terms.Of(found.Margin), found.Region.InSentence()));
        IEnumerable<string> result = reading.Outcome switch
        {
            ReadingOutcome.Clear when reading.Findings.Any(finding => finding.IsUndecided()) => findings.Prepend(Sentences.ClearWhereSeen),
            ReadingOutcome.Clear => findings.Prepend(Sentences.ClearReading),
            ReadingOutcome.Unreadable when reading.NoMoreTissue => findings.Prepend(Sentences.UnreadableExhausted),
            ReadingOutcome.Unreadable => findings.Prepend(Sentences.UnreadableReading),
            _ => findings,
        };
        if (reading is { NoMoreTissue: true, Outcome: not ReadingOutcome.Unreadable })
        {
            result = result.Append(Sentences.NothingLeftToRead);
        }

        return Sentences.Reading(stage.Number, block.Label, string.Join("; ", result));
    }

    private static string Of(FindingKind kind) => kind == FindingKind.Inflammation ? Terms.InflammationMayHideTumour : Terms.Of(kind);
}
