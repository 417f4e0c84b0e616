using System.Globalization;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Backup;

/// <summary>A backup in the folder for backups.</summary>
/// <param name="File">Its name within the folder.</param>
/// <param name="FinishedAt">When it was finished, UTC.</param>
/// <param name="Bytes">Its size.</param>
/// <param name="Encrypted">True where only the key reads it.</param>
public sealed record BackupFile(string File, DateTimeOffset FinishedAt, long Bytes, bool Encrypted);

/// <summary>The operator's folder for backups that the service takes: <c>Backup:Folder</c>, and the key <c>Backup:KeyFile</c> where they are to be encrypted.</summary>
internal sealed class BackupFolder
{
    private const string Extension = ".backup";
    private readonly string path;

    private BackupFolder(string path, BackupKey? key)
    {
        (this.path, Key) = (path, key);
    }

    /// <summary>The key, where backups are to be encrypted.</summary>
    internal BackupKey? Key { get; }

    /// <summary>The folder of the settings, or null where none is set.</summary>
    /// <exception cref="StartFailureException">It is not there or can't be written, or the key file can't be read.</exception>
    internal static BackupFolder? FromSettings(IConfiguration settings)
    {
        var (folder, keyFile) = (settings["Backup:Folder"], settings["Backup:KeyFile"]);
        if (folder is not { Length: > 0 })
        {
            return keyFile is { Length: > 0 } ? throw new StartFailureException("Backup:KeyFile is set, but Backup:Folder is not.") : null;
        }

        GuardWritable(folder);
        return new BackupFolder(Path.GetFullPath(folder), keyFile is { Length: > 0 } ? KeyOf(keyFile) : null);
    }

    /// <summary>The path of a backup begun at a moment.</summary>
    internal string PathFor(DateTimeOffset begun) =>
        Path.Combine(path, string.Create(CultureInfo.InvariantCulture, $"record-{begun.UtcDateTime:yyyy-MM-dd-HHmmss-fff}Z{Extension}"));

    /// <summary>The newest backups in it, newest first; files that do not begin as a backup are left out.</summary>
    /// <exception cref="IOException">The folder can't be read.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder can't be read.</exception>
    internal IReadOnlyList<BackupFile> Newest(int most) =>
    [
        .. new DirectoryInfo(path).EnumerateFiles($"*{Extension}").OrderByDescending(file => file.LastWriteTimeUtc).ThenBy(file => file.Name, StringComparer.Ordinal)
            .Select(Find).OfType<BackupFile>().Take(most),
    ];

    /// <summary>A backup in it, or null where the file is gone, can't be opened or is something else.</summary>
    internal static BackupFile? Find(FileInfo file)
    {
        try
        {
            using var opened = file.OpenRead();
            return BackupReader.StartsEncrypted(opened) is { } encrypted
                ? new BackupFile(file.Name, new DateTimeOffset(file.LastWriteTimeUtc), file.Length, encrypted)
                : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Takes away what a killed service has left half written. What another process still writes is locked by it and stays.</summary>
    internal void ClearLeftovers()
    {
        foreach (var part in Directory.EnumerateFiles(path, BackupWriter.PartOf($"record-*{Extension}")))
        {
            try
            {
                new FileStream(part, FileMode.Open, FileAccess.ReadWrite, FileShare.None, 1, FileOptions.DeleteOnClose).Dispose();
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // Another copy of the service is writing it, or another account did.
            }
        }
    }

    private static void GuardWritable(string folder)
    {
        try
        {
            using var trial = new FileStream(Path.Combine(folder, $".trial-{Guid.NewGuid():N}"), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1, FileOptions.DeleteOnClose);
            trial.WriteByte(0);
            trial.Flush(flushToDisk: true);
        }
        catch (DirectoryNotFoundException)
        {
            throw new StartFailureException($"Backup:Folder is {folder}, which does not exist. Create it, or set another folder.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StartFailureException($"Backup:Folder is {folder}, which can't be written: {e.Message}");
        }
    }

    private static BackupKey KeyOf(string keyFile)
    {
        try
        {
            return BackupKey.Read(keyFile);
        }
        catch (Exception e) when (e is BackupException or IOException or UnauthorizedAccessException)
        {
            throw new StartFailureException($"Backup:KeyFile can't be used. {e.Message}");
        }
    }
}
