using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Intake;

/// <summary>The facts of a case as they were entered anew: all of them, with the reason.</summary>
public sealed class FactsCorrection
{
    private readonly FactsCorrected corrected;

    internal FactsCorrection(FactsCorrected corrected, int ordinal, Authorship written)
    {
        (this.corrected, Ordinal, RecordedById, RecordedAt) = (corrected, ordinal, written.ById, written.At);
    }

    /// <summary>Its place among the corrections, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>Everything known from then on.</summary>
    public CaseFacts Facts => corrected.Facts.Open();

    /// <summary>Why it was corrected.</summary>
    public string Reason => corrected.Reason.Text;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }
}
