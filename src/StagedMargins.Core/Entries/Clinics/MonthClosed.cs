namespace StagedMargins.Core.Entries.Clinics;

/// <summary>The audit figures of a month were kept. It keeps its bounds, whatever time zone the clinic chooses later.</summary>
/// <param name="Month">The month, <c>yyyy-MM</c>.</param>
/// <param name="From">Its first moment.</param>
/// <param name="To">The first moment after it.</param>
/// <param name="Figures">The figures as they stood, as JSON.</param>
/// <param name="Cases">Ids of the cases that they count, separated by blanks; null where an earlier version closed it.</param>
public sealed record MonthClosed(string Month, ClinicalTime From, ClinicalTime To, string Figures, string? Cases) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<MonthClosed>("closeMonth");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state with { ClosedMonths = state.ClosedMonths.SetItem(Month, this) };
}
