using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace StagedMargins.Web.Backup;

/// <summary>Reads a backup, and refuses one that is not as it was written before anything is made of it.</summary>
internal sealed partial class BackupReader : IDisposable
{
    private readonly FileStream file;
    private readonly DecryptingStream? cipher;
    private readonly ZipArchive archive;

    private BackupReader(FileStream file, DecryptingStream? cipher)
    {
        (this.file, this.cipher) = (file, cipher);
        archive = new ZipArchive((Stream?)cipher ?? file, ZipArchiveMode.Read, leaveOpen: true);
        Manifest = ReadManifest();
    }

    /// <summary>What is in it.</summary>
    internal BackupManifest Manifest { get; }

    /// <summary>Opens a backup and checks every byte of its file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="key">The key, where it is encrypted.</param>
    /// <exception cref="BackupException">It is not a backup, not for this key, or not as it was written.</exception>
    internal static BackupReader Open(string path, BackupKey? key)
    {
        if (!File.Exists(path))
        {
            throw new BackupException($"There is no file {path}.");
        }

        var file = File.OpenRead(path);
        DecryptingStream? cipher = null;
        try
        {
            if (StartsEncrypted(file) ?? throw new BackupException("This file is not a backup that this version of the program can read."))
            {
                cipher = new DecryptingStream(file, key ?? throw new BackupException("This backup is encrypted; give its key with --key-file FILE."));
                cipher.CheckAll();
            }
            else if (key is not null)
            {
                throw new BackupException("This backup is not encrypted, but a key was given. Leave out --key-file only if you are sure where the file comes from.");
            }
            else
            {
                PlainSeal.Check(file);
            }

            return new BackupReader(file, cipher);
        }
        catch (Exception e)
        {
            cipher?.Dispose();
            file.Dispose();
            throw e is InvalidDataException or JsonException ? Unreadable() : e;
        }
    }

    /// <summary>The rows of a table. Its count and digest are checked as the last of them is taken.</summary>
    /// <exception cref="BackupException">They are not those of the list.</exception>
    internal IEnumerable<object?[]> Rows(BackupTable table)
    {
        using var hash = SHA256.Create();
        using var entry = (archive.GetEntry(table.File) ?? throw Unreadable()).Open();
        using var hashed = new CryptoStream(entry, hash, CryptoStreamMode.Read);
        using var lines = new StreamReader(hashed, Encoding.UTF8);
        var count = 0L;
        while (lines.ReadLine() is { } line)
        {
            count++;
            yield return Row(line, table);
        }

        if (count != table.Rows || Convert.ToHexStringLower(hash.Hash!) != table.Sha256)
        {
            throw Unreadable();
        }
    }

    /// <summary>Reads every row, so that a list that does not fit is found before anything is made of it.</summary>
    internal void CheckRows(Progress progress, CancellationToken cancel)
    {
        foreach (var (at, table) in Manifest.Tables.Index())
        {
            progress.Begin($"Reading back part {at + 1} of {Manifest.Tables.Count}");
            var count = 0L;
            foreach (var _ in Rows(table))
            {
                cancel.ThrowIfCancellationRequested();
                progress.Rows(table.Name, ++count);
            }
        }
    }

    public void Dispose()
    {
        archive.Dispose();
        cipher?.Dispose();
        file.Dispose();
    }

    /// <summary>True where a file begins as an encrypted backup, false where as one that is not; null where as neither.</summary>
    internal static bool? StartsEncrypted(FileStream file)
    {
        Span<byte> start = stackalloc byte[Chunks.Name.Length];
        var length = file.ReadAtLeast(start, start.Length, throwOnEndOfStream: false);
        return start.SequenceEqual(Chunks.Name) ? true : start.StartsWith("PK"u8) && length == start.Length ? false : null;
    }

    private static object?[] Row(string line, BackupTable table)
    {
        try
        {
            return RowText.Read(line, table.Columns);
        }
        catch (FormatException)
        {
            throw Unreadable();
        }
    }

    private static BackupException Unreadable() => new("The contents of this file do not match its list, so it was changed. Nothing was written.");

    private BackupManifest ReadManifest()
    {
        using var entry = (archive.GetEntry(BackupManifest.File) ?? throw Unreadable()).Open();
        var manifest = JsonSerializer.Deserialize<BackupManifest>(entry, BackupManifest.Json) ?? throw Unreadable();
        if (manifest.Format != BackupManifest.PresentFormat)
        {
            throw new BackupException($"This backup has format {manifest.Format}, made by another version of the program. Restore it with that version.");
        }

        // Names go into statements, so they are names and nothing else.
        var names = manifest.Tables.SelectMany(table => table.Columns.Select(column => column.Name).Append(table.Name));
        return names.All(name => Name().IsMatch(name)) ? manifest : throw Unreadable();
    }

    [GeneratedRegex(@"\A[A-Za-z_][A-Za-z0-9_]*\z", RegexOptions.CultureInvariant)]
    private static partial Regex Name();
}
