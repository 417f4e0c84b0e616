namespace StagedMargins.Web.Backup;

/// <summary>The size of a file in words.</summary>
internal static class FileSize
{
    private static readonly string[] Units = ["kB", "MB", "GB", "TB"];

    /// <summary>For example <c>1.4 MB</c>; units of a thousand, as disks are sold.</summary>
    internal static string Of(long bytes)
    {
        var (size, unit) = (bytes / 1000.0, 0);
        while (size >= 999.95 && unit < Units.Length - 1)
        {
            (size, unit) = (size / 1000, unit + 1);
        }

        return FormattableString.Invariant($"{size:0.0} {Units[unit]}");
    }
}
