using System.Diagnostics;
using System.Globalization;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>A file system of a few megabytes in memory, which can be filled up. Only root may mount one.</summary>
public sealed class SmallDisk : IAsyncDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("margins-disk-");

    private SmallDisk()
    {
    }

    /// <summary>Where it is.</summary>
    public string Folder => folder.FullName;

    private string Filler => Path.Combine(Folder, "filler");

    /// <summary>Mounts one, or skips the test where that is not allowed.</summary>
    public static async Task<SmallDisk> MountAsync(int megabytes)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess, "Only root on Linux may mount a small file system.");
        var disk = new SmallDisk();
        await disk.RunAsync("mount", "-t", "tmpfs", "-o", string.Create(CultureInfo.InvariantCulture, $"size={megabytes}m"), "tmpfs", disk.Folder);
        return disk;
    }

    /// <summary>Lets nothing be written, or lets it again.</summary>
    public Task SetReadOnlyAsync(bool isReadOnly) => RunAsync("mount", "-o", isReadOnly ? "remount,ro" : "remount,rw", Folder);

    /// <summary>Fills it to the last byte.</summary>
    public void Fill()
    {
        using var file = new FileStream(Filler, FileMode.Append, FileAccess.Write, FileShare.None, bufferSize: 0);
        var bytes = new byte[4096];
        try
        {
            while (true)
            {
                file.Write(bytes);
            }
        }
        catch (IOException)
        {
            // Full, as it was to be.
        }
    }

    /// <summary>Makes room again.</summary>
    public void MakeRoom() => File.Delete(Filler);

    public async ValueTask DisposeAsync()
    {
        await RunAsync("umount", "-l", Folder);
        folder.Delete();
    }

    private async Task RunAsync(string program, params string[] arguments)
    {
        using var process = Process.Start(program, arguments);
        await process.WaitForExitAsync();
        process.ExitCode.ShouldBe(0, $"{program} on {Folder}");
    }
}
