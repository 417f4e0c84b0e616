using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

/// <summary>A reading as one sentence, to be read back before it is saved and found again after.</summary>
public static class ReadingSentence
{
    /// <summary>For example <c>Stage 1, block B: tumour at the peripheral margin, 7:30 to 9:00.</c></summary>
    public static string Of(Stage stage, Block block, Reading reading)
    {
        var places = reading.Findings
            .GroupBy(finding => (finding.Kind, finding.Margin))
            .OrderBy(group => group.Key)
            .Select(group => $"{Of(group.Key.Kind)} at the {EnumNames<Margin>.Of(group.Key.Margin)} margin, {Of(MarginRegion.UnionOf(group.Select(finding => finding.Region())))}")
            .ToList();
        var parts = reading.Outcome switch
        {
            ReadingOutcome.Clear => [.. places.Prepend("clear, the whole margin of the block was seen and shows no tumour")],
            ReadingOutcome.Unreadable => [.. places.Prepend("cannot be read, a recut is needed")],
            _ => places,
        };
        return $"Stage {stage.Number}, block {block.Label}: {string.Join("; ", parts)}.";
    }

    /// <summary>A kind of finding in words.</summary>
    public static string Of(FindingKind kind) => kind switch
    {
        FindingKind.Tumour => "tumour",
        FindingKind.PerineuralInvasion => "perineural invasion",
        FindingKind.Inflammation => "inflammation, which may hide tumour,",
        FindingKind.ActinicChange => "actinic change",
        FindingKind.Scar => "scar",
        _ => "another finding",
    };

    private static string Of(MarginRegion region)
    {
        string[] parts = [.. region.Arcs.Select(Of), .. region.Centre ? ["the centre"] : Array.Empty<string>()];
        return parts.Length <= 1 ? string.Concat(parts) : $"{string.Join(", ", parts[..^1])} and {parts[^1]}";
    }

    private static string Of(ClockArc arc) => arc.IsWhole ? "all around" : $"{Of(arc.From)} to {Of(arc.To)}";

    // As it is said aloud: 7:30, not 07:30.
    private static string Of(ClockPosition position) => position.ToString() is ['0', .. var rest] ? rest : position.ToString();
}
