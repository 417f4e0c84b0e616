using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Care;

/// <summary>A dose of local anaesthetic that was given. Never changed: a dose entered wrongly is voided, and entered again.</summary>
public sealed record Dose
{
    internal Dose(AnaestheticGiven given, int number, Authorship written)
    {
        (Number, Agent, Adrenaline, GivenAt) = (number, given.Agent, given.Adrenaline, given.GivenAt);
        (PercentThousandths, Microlitres) = (given.PercentThousandths, given.Microlitres);
        (RecordedById, RecordedAt) = (written.ById, written.At);
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; }

    /// <summary>The agent.</summary>
    public LocalAnaesthetic Agent { get; }

    /// <summary>Its strength in thousandths of a per cent.</summary>
    public int PercentThousandths { get; }

    /// <summary>Its volume in microlitres.</summary>
    public int Microlitres { get; }

    /// <summary>True with adrenaline.</summary>
    public bool Adrenaline { get; }

    /// <summary>When it was given.</summary>
    public ClinicalTime GivenAt { get; }

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }

    /// <summary>That it was entered wrongly, where it was.</summary>
    public DoseVoid? Void { get; internal init; }

    /// <summary>Its strength, per cent.</summary>
    public decimal Percent => PercentThousandths / 1000m;

    /// <summary>Its volume, mL.</summary>
    public decimal VolumeMl => Microlitres / 1000m;

    /// <summary>What it held, mg: 1 % is 10 mg in each mL.</summary>
    public decimal Mg => Percent * 10 * VolumeMl;
}

/// <summary>A dose as it is handed in.</summary>
/// <param name="Agent">The agent.</param>
/// <param name="Percent">Its strength, per cent.</param>
/// <param name="VolumeMl">Its volume, mL.</param>
/// <param name="Adrenaline">True with adrenaline.</param>
/// <param name="GivenAt">When it was given.</param>
public sealed record DoseEntry(LocalAnaesthetic Agent, decimal Percent, decimal VolumeMl, bool Adrenaline, ClinicalTime GivenAt);

/// <summary>The word that a dose was entered wrongly and does not count.</summary>
public sealed class DoseVoid
{
    private readonly Words reason;

    internal DoseVoid(Words reason, Authorship written)
    {
        (this.reason, ById, At) = (reason, written.ById, written.At);
    }

    /// <summary>Why.</summary>
    public string Reason => reason.Text;

    /// <summary>Who said so.</summary>
    public Guid ById { get; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; }
}
