using StagedMargins.Core;
using StagedMargins.Core.CountingUnits;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>A clinic's table of codes, or why there is none to be read.</summary>
/// <param name="Table">The table; null where the clinic has none, or where it can't be read.</param>
/// <param name="Problem">Why the file can't be read, with the line at fault; null where it can, or where there is none.</param>
public sealed record CodeTableState(CodeTable? Table, string? Problem)
{
    /// <summary>The table, where a file that can't be read is to be refused.</summary>
    /// <exception cref="RuleViolationException">The file can't be read.</exception>
    public CodeTable? OrRefuse() => Problem is null ? Table : throw new RuleViolationException("codeTable", Problem);
}

/// <summary>The clinics' own tables of codes and prices, each from the clinic's own file; none is shipped.</summary>
/// <param name="settings">Where the files stand: the folder named by <c>CountingUnits:Folder</c>.</param>
public sealed class CodeTables(IConfiguration settings)
{
    private const long LargestFile = 64 * 1024;

    /// <summary>The folder of the files, or null where none is set.</summary>
    public string? Folder => settings["CountingUnits:Folder"] is { Length: > 0 } folder ? folder : null;

    /// <summary>The name of a clinic's file in the folder.</summary>
    public static string FileOf(Guid clinicId) => $"{clinicId:D}.csv";

    /// <summary>The table of a clinic, read anew each time so that a changed file holds at once.</summary>
    public async Task<CodeTableState> LoadAsync(Guid clinicId, CancellationToken cancel)
    {
        if (Folder is not { } folder || new FileInfo(Path.Combine(folder, FileOf(clinicId))) is not { Exists: true } file)
        {
            return new CodeTableState(null, null);
        }

        if (file.Length > LargestFile)
        {
            return new CodeTableState(null, $"The clinic's code table is larger than {LargestFile / 1024} KiB.");
        }

        try
        {
            return new CodeTableState(CodeTable.Parse(await File.ReadAllLinesAsync(file.FullName, cancel)), null);
        }
        catch (FormatException e)
        {
            return new CodeTableState(null, $"The clinic's code table can't be read. {e.Message}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new CodeTableState(null, "The clinic's code table can't be opened. Give the service's account permission to read it.");
        }
    }
}
