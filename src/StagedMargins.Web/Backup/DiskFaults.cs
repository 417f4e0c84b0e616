namespace StagedMargins.Web.Backup;

/// <summary>Tells the faults of disks apart.</summary>
internal static class DiskFaults
{
    private const int NoSpaceOnUnix = 28;
    private const int QuotaOnLinux = 122;
    private const int DiskFullOnWindows = unchecked((int)0x80070070);

    /// <summary>True where there is no room left to write.</summary>
    internal static bool IsFull(IOException exception) => exception.HResult is NoSpaceOnUnix or QuotaOnLinux or DiskFullOnWindows;
}
