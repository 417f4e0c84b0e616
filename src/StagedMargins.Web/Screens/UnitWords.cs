using System.Globalization;
using StagedMargins.Core.CountingUnits;
using StagedMargins.Core.Wording;
using StagedMargins.Web.Features.CountingUnits;

namespace StagedMargins.Web.Screens;

/// <summary>Counting units as the pages say them.</summary>
internal static class UnitWords
{
    /// <summary>A region group; null is one that a person is to decide.</summary>
    internal static string Of(RegionGroup? group) => group is { } known ? Terms.Of(known) : "to be decided";

    /// <summary>The clinic's code and price, for example <c>X-1, 100.00</c>; empty where its table gives none.</summary>
    internal static string Of(string? code, decimal? price) =>
        string.Join(", ", new[] { code, price?.ToString(CultureInfo.InvariantCulture) }.OfType<string>());

    /// <summary>The code and price of a unit that a case has.</summary>
    internal static string CodeOf(UnitView unit) => unit.Count == 0 ? "" : Of(unit.Code, unit.Price);
}
