using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Intake;

/// <summary>The facts of a case as they were entered anew: all of them, with the reason.</summary>
public sealed class FactsCorrection
{
    private FactsCorrection()
    {
        (Facts, Reason) = (null!, "");
    }

    internal FactsCorrection(FactsCorrected corrected, int ordinal, Authorship written)
    {
        (Ordinal, Facts, Reason) = (ordinal, corrected.Facts.Open(), corrected.Reason.Text);
        (RecordedById, RecordedAt) = (written.ById, written.At);
    }

    /// <summary>Its place among the corrections, from 1.</summary>
    public int Ordinal { get; private set; }

    /// <summary>Everything known from then on.</summary>
    public CaseFacts Facts { get; private set; }

    /// <summary>Why it was corrected.</summary>
    public string Reason { get; private set; }

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; private set; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; private set; }
}
