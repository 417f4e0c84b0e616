using System.Globalization;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A dose of local anaesthetic was given.</summary>
/// <param name="Agent">The agent.</param>
/// <param name="PercentThousandths">Strength in thousandths of a percent.</param>
/// <param name="Microlitres">Volume, µL.</param>
/// <param name="Adrenaline">True where it held adrenaline.</param>
/// <param name="GivenAt">When.</param>
public sealed record AnaestheticGiven(LocalAnaesthetic Agent, int PercentThousandths, int Microlitres, bool Adrenaline, ClinicalTime GivenAt) : CaseEvent
{
    private const int MostThousandths = 10_000;
    private const int MostMicrolitres = 500_000;

    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<AnaestheticGiven>("giveAnaesthetic");

    /// <summary>Decides that a dose is entered. None is refused for being too much: it was given, and the total says so loudly.</summary>
    /// <remarks>Also after the end of the case: a repair may need more.</remarks>
    /// <exception cref="InvalidEntryException">A strength or volume is out of range.</exception>
    public static AnaestheticGiven Decide(SurgicalCase state, DoseEntry entry)
    {
        SurgicalCase.GuardEntryLimit("volumeMl", state.Doses.Count, RecordLimits.Doses);
        return new AnaestheticGiven(
            entry.Agent,
            Exact("percent", entry.Percent, MostThousandths, "A strength must be 0.001 to 10 %, with at most three decimals."),
            Exact("volumeMl", entry.VolumeMl, MostMicrolitres, "A volume must be 0.001 to 500 mL, with at most three decimals."),
            entry.Adrenaline,
            entry.GivenAt);
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) =>
        Decide(state, new DoseEntry(Agent, PercentThousandths / 1000m, Microlitres / 1000m, Adrenaline, GivenAt));

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        Sentences.EntryDose(Terms.Of(Agent), Thousandths(PercentThousandths), Thousandths(Microlitres), Adrenaline ? Sentences.WithAdrenaline : Sentences.Plain);

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { Doses = state.Doses.Plus(new Dose(this, state.Doses.Count + 1, written)) };

    private static string Thousandths(int value) => (value / 1000m).ToString("0.###", CultureInfo.InvariantCulture);

    // Whole thousandths, so that doses add up exactly in every database.
    private static int Exact(string field, decimal value, int mostThousandths, string otherwise)
    {
        var inRange = value > 0 && value <= mostThousandths / 1000m;
        return inRange && decimal.Truncate(value * 1000) == value * 1000
            ? (int)(value * 1000)
            : throw new InvalidEntryException(field, otherwise);
    }
}
