using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using CsvHelper;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Features.Audit;

/// <summary>The audit as comma-separated values (RFC 4180): one row for all cases, one for each group, the same names as in JSON.</summary>
public static class AuditCsv
{
    private const string All = "all";
    private const string OfClinic = "clinic";

    /// <summary>Writes the audit.</summary>
    public static byte[] Write(AuditView audit)
    {
        // The limits belong to groups alone, but every row has every column.
        var groups = audit.Groups.Select(Row).ToList();
        List<Dictionary<string, JsonNode?>> rows = [.. Named(All, audit), .. Named(OfClinic, audit.Clinic), .. groups];
        var columns = rows.SelectMany(row => row.Keys).Prepend("key").Distinct().ToList();
        using var file = new MemoryStream();
        using (var csv = CsvFile.Writer(file))
        {
            csv.WriteHeader([.. columns]);
            foreach (var row in rows)
            {
                foreach (var column in columns)
                {
                    Write(csv, row.GetValueOrDefault(column));
                }

                csv.EndRecord();
            }
        }

        return file.ToArray();
    }

    private static IEnumerable<Dictionary<string, JsonNode?>> Named(string key, FiguresView? figures)
    {
        if (figures is not null)
        {
            var row = Row(figures, typeof(FiguresView));
            row["key"] = key;
            yield return row;
        }
    }

    private static Dictionary<string, JsonNode?> Row(GroupView group) => Row(group, typeof(GroupView));

    private static Dictionary<string, JsonNode?> Row(FiguresView figures, Type shape)
    {
        var cells = new Dictionary<string, JsonNode?>();
        foreach (var (name, value) in JsonSerializer.SerializeToNode(figures, shape, ApiJson.Options)!.AsObject())
        {
            Put(cells, name, value);
        }

        return cells;
    }

    private static void Put(Dictionary<string, JsonNode?> cells, string name, JsonNode? value)
    {
        switch (value)
        {
            case JsonObject parts:
                foreach (var (part, inner) in parts)
                {
                    Put(cells, $"{name}.{part}", inner);
                }

                break;
            case JsonArray list:
                for (var i = 0; i < list.Count; i++)
                {
                    Put(cells, string.Create(CultureInfo.InvariantCulture, $"{name}.{i + 1}"), list[i]);
                }

                break;
            default:
                cells[name] = value;
                break;
        }
    }

    // A number goes in as one: as a text, a negative one would be taken for a formula and be guarded.
    private static void Write(CsvWriter csv, JsonNode? cell)
    {
        switch (cell?.GetValueKind())
        {
            case JsonValueKind.Number:
                csv.WriteField(cell.GetValue<double>());
                break;
            default:
                csv.WriteField(cell?.ToString() ?? "");
                break;
        }
    }
}
