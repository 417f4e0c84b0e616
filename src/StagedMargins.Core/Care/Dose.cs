namespace StagedMargins.Core.Care;

/// <summary>A dose of local anaesthetic that was given. Never changed: a dose entered wrongly is voided, and entered again.</summary>
public sealed class Dose
{
    private const int MostThousandths = 10_000;
    private const int MostMicrolitres = 500_000;

    private Dose()
    {
    }

    internal Dose(DoseEntry entry, int number, Guid recordedById, ClinicalTime recordedAt)
    {
        Number = number;
        (Agent, Adrenaline, GivenAt) = (entry.Agent, entry.Adrenaline, entry.GivenAt);
        PercentThousandths = Exact("percent", entry.Percent, MostThousandths, "A strength must be 0.001 to 10 %, with at most three decimals.");
        Microlitres = Exact("volumeMl", entry.VolumeMl, MostMicrolitres, "A volume must be 0.001 to 500 mL, with at most three decimals.");
        (RecordedById, RecordedAt) = (recordedById, recordedAt);
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>The agent.</summary>
    public LocalAnaesthetic Agent { get; private set; }

    /// <summary>Its strength in thousandths of a per cent.</summary>
    public int PercentThousandths { get; private set; }

    /// <summary>Its volume in microlitres.</summary>
    public int Microlitres { get; private set; }

    /// <summary>True with adrenaline.</summary>
    public bool Adrenaline { get; private set; }

    /// <summary>When it was given.</summary>
    public ClinicalTime GivenAt { get; private set; }

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; private set; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; private set; }

    /// <summary>That it was entered wrongly, where it was.</summary>
    public DoseVoid? Void { get; private set; }

    /// <summary>Its strength, per cent.</summary>
    public decimal Percent => PercentThousandths / 1000m;

    /// <summary>Its volume, mL.</summary>
    public decimal VolumeMl => Microlitres / 1000m;

    /// <summary>What it held, mg: 1 % is 10 mg in each mL.</summary>
    public decimal Mg => Percent * 10 * VolumeMl;

    internal void Cancel(string? reason, Guid byId, ClinicalTime at) => Void = Void is null
        ? new DoseVoid(reason, byId, at)
        : throw new RuleViolationException("alreadyVoid", $"Dose {Number} is already void.");

    // Whole thousandths, so that doses add up exactly in every database.
    private static int Exact(string field, decimal value, int mostThousandths, string otherwise)
    {
        var inRange = value > 0 && value <= mostThousandths / 1000m;
        return inRange && decimal.Truncate(value * 1000) == value * 1000
            ? (int)(value * 1000)
            : throw new InvalidEntryException(field, otherwise);
    }
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
    private DoseVoid()
    {
        Reason = "";
    }

    internal DoseVoid(string? reason, Guid byId, ClinicalTime at)
    {
        (Reason, ById, At) = (FreeText.Required("reason", reason), byId, at);
    }

    /// <summary>Why.</summary>
    public string Reason { get; private set; }

    /// <summary>Who said so.</summary>
    public Guid ById { get; private set; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; private set; }
}
