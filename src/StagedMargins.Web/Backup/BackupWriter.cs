using System.Buffers;
using System.Data.Common;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text.Json;

namespace StagedMargins.Web.Backup;

/// <summary>
/// Writes a backup beside its target and gives it its name when it is whole, so that a file of that name is never half a backup and
/// never replaces another.
/// </summary>
internal sealed class BackupWriter : IDisposable
{
    private const int BufferBytes = 64 * 1024;
    private readonly string target;
    private readonly FileStream file;
    private readonly EncryptingStream? cipher;
    private readonly ZipArchive archive;

    /// <summary>Begins.</summary>
    /// <param name="target">The file to be made.</param>
    /// <param name="key">The key, where it is to be encrypted.</param>
    internal BackupWriter(string target, BackupKey? key)
    {
        this.target = target;
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.ReadWrite, Share = FileShare.None, BufferSize = 0 };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        file = new FileStream(PartOf(target), options);
        cipher = key is null ? null : new EncryptingStream(file, key);
        archive = new ZipArchive((Stream?)cipher ?? file, ZipArchiveMode.Create, leaveOpen: true) { Comment = PlainSeal.Placeholder };
    }

    /// <summary>Where a backup stands until it is whole.</summary>
    internal static string PartOf(string target) => $"{target}.part";

    /// <summary>Writes the rows of a table.</summary>
    /// <param name="table">The table.</param>
    /// <param name="rows">Its rows.</param>
    /// <param name="progress">Told of each row.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <returns>The table with its count and digest.</returns>
    internal async Task<BackupTable> AddAsync(BackupTable table, DbDataReader rows, Progress progress, CancellationToken cancel)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        await using var entry = archive.CreateEntry(table.File, CompressionLevel.Fastest).Open();
        var lines = new ArrayBufferWriter<byte>(2 * BufferBytes);
        await using var json = new Utf8JsonWriter(lines);
        var count = 0L;
        while (await rows.ReadAsync(cancel))
        {
            RowText.Write(json, rows, table.Columns);
            json.Flush();
            json.Reset();
            lines.Write("\n"u8);
            progress.Rows(table.Name, ++count);
            if (lines.WrittenCount >= BufferBytes)
            {
                Pass();
            }
        }

        Pass();
        return table with { Rows = count, Sha256 = Convert.ToHexStringLower(hash.GetHashAndReset()) };

        void Pass()
        {
            hash.AppendData(lines.WrittenSpan);
            entry.Write(lines.WrittenSpan);
            lines.ResetWrittenCount();
        }
    }

    /// <summary>Writes the list of what is in it, and closes it.</summary>
    internal void Finish(BackupManifest manifest)
    {
        using (var entry = archive.CreateEntry(BackupManifest.File).Open())
        {
            JsonSerializer.Serialize(entry, manifest, BackupManifest.Json);
        }

        archive.Dispose();
        if (cipher is not null)
        {
            cipher.Finish();
        }
        else
        {
            PlainSeal.Write(file);
        }

        file.Flush(flushToDisk: true);
        file.Dispose();
    }

    /// <summary>Gives the finished file its name.</summary>
    /// <exception cref="IOException">A file of that name was made meanwhile.</exception>
    internal void Publish() => File.Move(PartOf(target), target, overwrite: false);

    /// <summary>Takes away what was not published.</summary>
    public void Dispose()
    {
        // An archive that is not finished would only write its end into a file that goes away. The file keeps nothing back that
        // closing it would have to write, so it closes on a full disk too.
        cipher?.Dispose();
        file.Dispose();
        File.Delete(PartOf(target));
    }
}
