using StagedMargins.Core;
using StagedMargins.Core.CountingUnits;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>The clinics' own tables of codes and prices, each from the clinic's own file; none is shipped.</summary>
/// <param name="settings">Where the files stand: the folder named by <c>CountingUnits:Folder</c>.</param>
public sealed class CodeTables(IConfiguration settings)
{
    private const long LargestFile = 64 * 1024;

    /// <summary>The table of a clinic, read anew each time so that a changed file holds at once; null where it has none.</summary>
    /// <exception cref="ForbiddenNowException">The file is not a table. It names the line.</exception>
    public async Task<CodeTable?> OfAsync(Guid clinicId, CancellationToken cancel)
    {
        if (settings["CountingUnits:Folder"] is not { Length: > 0 } folder)
        {
            return null;
        }

        var file = new FileInfo(Path.Combine(folder, $"{clinicId:D}.csv"));
        if (!file.Exists)
        {
            return null;
        }

        if (file.Length > LargestFile)
        {
            throw new ForbiddenNowException("codeTable", $"The clinic's code table is larger than {LargestFile / 1024} KiB.");
        }

        try
        {
            return CodeTable.Parse(await File.ReadAllLinesAsync(file.FullName, cancel));
        }
        catch (FormatException e)
        {
            throw new ForbiddenNowException("codeTable", $"The clinic's code table can't be read. {e.Message}");
        }
    }
}
