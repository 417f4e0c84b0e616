namespace StagedMargins.Core.Risk;

/// <summary>An assessment as it was made when facts were entered, kept with the rules of that day.</summary>
public sealed class KeptAssessment
{
    internal KeptAssessment(int ordinal, RiskAssessment assessment, ClinicalTime at) => (Ordinal, Assessment, AssessedAt) = (ordinal, assessment, at);

    /// <summary>Its place among the assessments of the case, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>What the rules said, with their version.</summary>
    public RiskAssessment Assessment { get; }

    /// <summary>When.</summary>
    public ClinicalTime AssessedAt { get; }
}
