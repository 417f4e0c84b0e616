using System.Globalization;
using StagedMargins.Core;
using StagedMargins.Core.CountingUnits;
using StagedMargins.Web.Contract;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>The counting units of a month as comma-separated values (RFC 4180): one row for each unit that a case has.</summary>
public static class UnitsCsv
{
    private static readonly string[] Columns = ["caseNumber", "regionGroup", "unit", "count", "code", "price"];

    /// <summary>Writes them.</summary>
    public static byte[] Write(MonthUnitsView month)
    {
        using var file = new MemoryStream();
        using (var csv = CsvFile.Writer(file))
        {
            csv.WriteHeader(Columns);
            foreach (var (one, unit) in from one in month.Cases from unit in one.Units where unit.Count > 0 select (one, unit))
            {
                csv.WriteField(one.CaseNumber);
                csv.WriteField(one.RegionGroup is { } known ? EnumNames<RegionGroup>.Of(known) : "");
                csv.WriteField(EnumNames<CountingUnit>.Of(unit.Unit));
                csv.WriteField(unit.Count);
                csv.WriteField(unit.Code ?? "");
                // With as many places as the clinic gave.
                csv.WriteField(unit.Price?.ToString(CultureInfo.InvariantCulture) ?? "");
                csv.EndRecord();
            }
        }

        return file.ToArray();
    }
}
