using CsvHelper;

namespace StagedMargins.Web.Contract;

/// <summary>Comma-separated values (RFC 4180) as every route sends them.</summary>
internal static class CsvFile
{
    /// <summary>The media type.</summary>
    internal const string MediaType = "text/csv; charset=utf-8";

    /// <summary>Writes to a stream that stays open. A text that a spreadsheet would take for a formula is escaped.</summary>
    internal static CsvWriter Writer(Stream file) => CsvWriter.Create(file, CsvWriterOptions.Default with { Injection = CsvInjection.Escape }, true);
}
