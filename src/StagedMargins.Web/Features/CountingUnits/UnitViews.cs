using StagedMargins.Core.CountingUnits;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>So many of a unit.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Count">How many.</param>
/// <param name="Code">The clinic's own code; null where its table gives none.</param>
/// <param name="Price">The clinic's own price for one.</param>
public sealed record UnitView(CountingUnit Unit, int Count, string? Code, decimal? Price);

/// <summary>The counting units of a case. No patient reference.</summary>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="RegionGroup">The group of its body region; null where the case does not decide it.</param>
/// <param name="Units">The units.</param>
/// <param name="Question">What a person has to decide, where the case does not.</param>
public sealed record CaseUnitsView(string CaseNumber, RegionGroup? RegionGroup, UnitView[] Units, string? Question)
{
    private const string Undecided = "Site code and area class do not tell hand, foot or genitalia from trunk, arm or leg; decide from the site before counting.";

    /// <summary>The units of a case as they are sent.</summary>
    public static CaseUnitsView Of(SurgicalCase surgicalCase, CodeTable? table)
    {
        var units = CaseUnits.Of(surgicalCase);
        return new CaseUnitsView(
            surgicalCase.CaseNumber,
            units.RegionGroup,
            [.. Enum.GetValues<CountingUnit>().Select(unit => View(unit, units, table))],
            units.RegionGroup is null ? Undecided : null);
    }

    private static UnitView View(CountingUnit unit, CaseUnits units, CodeTable? table)
    {
        var code = table?.CodeOf(units.RegionGroup, unit);
        return new UnitView(unit, units.CountOf(unit), code?.Code, code?.Price);
    }
}

/// <summary>The counting units of a month.</summary>
/// <param name="Month">The month in which the cases ended, in the clinic's time zone.</param>
/// <param name="Cases">Its cases, by number.</param>
/// <param name="Undecided">How many of them have no region group.</param>
public sealed record MonthUnitsView(string Month, CaseUnitsView[] Cases, int Undecided);
