using System.Globalization;

namespace StagedMargins.Core.CountingUnits;

/// <summary>A clinic's code for a unit.</summary>
/// <param name="RegionGroup">The region group it is for.</param>
/// <param name="Unit">The unit.</param>
/// <param name="Code">The clinic's code.</param>
/// <param name="Price">The clinic's price for one, in its own currency, where it gives one.</param>
public sealed record UnitCode(RegionGroup RegionGroup, CountingUnit Unit, string Code, decimal? Price);

/// <summary>A clinic's own codes, from its own file. None is shipped.</summary>
/// <param name="Codes">At most one for each region group and unit.</param>
public sealed record CodeTable(IReadOnlyList<UnitCode> Codes)
{
    /// <summary>A table of this form, of invented codes, to show what a file is to look like.</summary>
    public const string Example = $"""
        {Header}
        headNeckHandsFeetGenitalia,firstStage,X-1,100.00
        headNeckHandsFeetGenitalia,furtherStage,X-2,
        trunkArmsLegs,firstStage,X-3,90.00
        trunkArmsLegs,blockBeyondFive,X-4,
        """;

    private const string Header = "regionGroup,unit,code,price";
    private const int LongestCode = 40;

    /// <summary>Reads a table: CSV with the header <c>regionGroup,unit,code,price</c>, one line for each code; the price may be empty.</summary>
    /// <param name="lines">The lines of the file.</param>
    /// <exception cref="FormatException">A line is not of this form, or a unit is given twice. It names the line and never quotes it.</exception>
    public static CodeTable Parse(IReadOnlyList<string> lines)
    {
        if (lines.Count == 0 || lines[0].Trim().TrimStart('\uFEFF') != Header)
        {
            throw new FormatException($"Line 1 must be {Header}");
        }

        var codes = new List<UnitCode>();
        for (var i = 1; i < lines.Count; i++)
        {
            if (string.IsNullOrWhiteSpace(lines[i]))
            {
                continue;
            }

            var code = ParseLine(lines[i].Split(',', StringSplitOptions.TrimEntries), i + 1);
            if (codes.Exists(other => other.RegionGroup == code.RegionGroup && other.Unit == code.Unit))
            {
                throw new FormatException($"Line {i + 1} gives a second code for the same unit.");
            }

            codes.Add(code);
        }

        return new CodeTable(codes);
    }

    /// <summary>The code for a unit, or null where the clinic gave none or the region group is not known.</summary>
    public UnitCode? CodeOf(RegionGroup? group, CountingUnit unit) => Codes.FirstOrDefault(code => code.RegionGroup == group && code.Unit == unit);

    private static UnitCode ParseLine(string[] fields, int line)
    {
        if (fields.Length is < 3 or > 4
            || !EnumNames<RegionGroup>.TryParse(fields[0], out var group)
            || !EnumNames<CountingUnit>.TryParse(fields[1], out var unit)
            || fields[2].Length is 0 or > LongestCode)
        {
            throw new FormatException($"Line {line} must be one of {string.Join(", ", EnumNames<RegionGroup>.All)}; one of {string.Join(", ", EnumNames<CountingUnit>.All)}; a code of at most {LongestCode} characters; a price or nothing.");
        }

        return fields is [_, _, _, { Length: > 0 } price]
            ? new UnitCode(group, unit, fields[2], Price(price, line))
            : new UnitCode(group, unit, fields[2], null);
    }

    private static decimal Price(string text, int line) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var price)
            ? price
            : throw new FormatException($"Line {line}: a price must be a number with a decimal point and no currency.");
}
