using StagedMargins.Core.Entries;
using StagedMargins.Core.Shape;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>The real wound as the surgeon measured it. Never changed: a new measurement is a further entry.</summary>
public sealed class MeasuredDefect
{
    /// <summary>A difference from the computed length or width above this share asks for a second look.</summary>
    public const double QuestionAbove = 0.25;

    private readonly DefectMeasured measured;

    internal MeasuredDefect(DefectMeasured measured, int ordinal, Authorship written)
    {
        (Ordinal, Length, Width, Plane) = (ordinal, measured.Length, measured.Width, measured.Plane);
        (this.measured, RecordedById, RecordedAt) = (measured, written.ById, written.At);
    }

    /// <summary>Its place among the measurements of the case, from 1; the last one holds.</summary>
    public int Ordinal { get; }

    /// <summary>Length.</summary>
    public Length Length { get; }

    /// <summary>Width.</summary>
    public Length Width { get; }

    /// <summary>The deepest plane.</summary>
    public AnatomicalPlane? Plane { get; }

    /// <summary>Why it was measured or entered again.</summary>
    public string? Reason => measured.Reason?.Text;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }

    /// <summary>The question to ask where the measurement and the computed defect are more than 25 % apart, or null.</summary>
    /// <param name="computed">The defect computed from the layers, or null where there is none.</param>
    public string? QuestionBeside(DefectSize? computed)
    {
        if (computed is null)
        {
            return null;
        }

        string[] apart =
        [
            .. Apart("length", Length, computed.LengthMm),
            .. Apart("width", Width, computed.WidthMm),
        ];
        return apart.Length == 0
            ? null
            : Sentences.DefectQuestion(string.Join("; ", apart));
    }

    // Whole micrometres, so that the last digit of a computed double does not decide at exactly 25 %.
    private static IEnumerable<string> Apart(string what, Length measured, double computedMm)
    {
        var computed = Math.Round(computedMm * 1000);
        return Math.Abs(measured.Micrometres - computed) > QuestionAbove * computed
            ? [FormattableString.Invariant($"{what} measured {measured.Millimetres:0.#} mm, computed {computedMm:0.#} mm")]
            : [];
    }
}

/// <summary>A measurement as it is handed in.</summary>
/// <param name="Length">Length.</param>
/// <param name="Width">Width.</param>
/// <param name="Plane">The deepest plane.</param>
/// <param name="Reason">Why it is entered again, where it is.</param>
public sealed record MeasuredDefectEntry(Length Length, Length Width, AnatomicalPlane? Plane, string? Reason = null);
