using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Intake;

/// <summary>The facts of a case as they were entered anew: all of them, with the reason.</summary>
public sealed class FactsCorrection
{
    private readonly FactsCorrected corrected;

    internal FactsCorrection(FactsCorrected corrected, int ordinal, Authorship written, int version)
    {
        (this.corrected, Ordinal, RecordedById, RecordedAt, Version) = (corrected, ordinal, written.ById, written.At, version);
    }

    /// <summary>Its place among the corrections, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>Everything known from then on.</summary>
    public CaseFacts Facts => corrected.Facts.Open();

    /// <summary>Why it was corrected.</summary>
    public string Reason => corrected.Reason.Text;

    /// <summary>The number of its entry in the case.</summary>
    public int Version { get; }

    /// <summary>The patient, where that was corrected.</summary>
    public Guid? PatientId => corrected.PatientId;

    /// <summary>The clinic's number for the patient, where that was corrected.</summary>
    public string? PatientRef => corrected.PatientRef?.Text;

    /// <summary>The surgeon, where that was corrected.</summary>
    public Guid? SurgeonId => corrected.SurgeonId;

    /// <summary>Where 12 o'clock points, where that was corrected.</summary>
    public string? TwelveOClock => corrected.TwelveOClock?.Text;

    /// <summary>True where the patient or 12 o'clock is another now, so that the confirmations of before no longer hold.</summary>
    public bool AsksConfirmationAgain => corrected.PatientId is not null || corrected.TwelveOClock is not null;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }
}
