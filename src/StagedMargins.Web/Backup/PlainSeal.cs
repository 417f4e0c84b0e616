using System.Security.Cryptography;
using System.Text;

namespace StagedMargins.Web.Backup;

/// <summary>
/// The seal of a backup that is not encrypted: the ZIP archive ends with a comment, which holds the SHA-256 of everything before it.
/// It shows damage, not forgery; only a key does that.
/// </summary>
internal static class PlainSeal
{
    private const int Characters = 64;

    /// <summary>What keeps the room for the seal until all else is written.</summary>
    internal static string Placeholder { get; } = new('0', Characters);

    /// <summary>Seals a file whose archive is complete.</summary>
    internal static void Write(FileStream file)
    {
        var digest = Digest(file);
        file.Position = file.Length - Characters;
        file.Write(Encoding.ASCII.GetBytes(digest));
    }

    /// <summary>Refuses a file that is not as it was sealed.</summary>
    /// <exception cref="BackupException">It is not.</exception>
    internal static void Check(FileStream file)
    {
        if (file.Length > Characters)
        {
            var (digest, found) = (Digest(file), new byte[Characters]);
            file.Position = file.Length - Characters;
            file.ReadExactly(found);
            if (Encoding.ASCII.GetString(found) == digest)
            {
                return;
            }
        }

        throw new BackupException("This file was changed or cut off after the backup was taken. Nothing was written.");
    }

    private static string Digest(FileStream file)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = new byte[1 << 20];
        file.Position = 0;
        for (var left = file.Length - Characters; left > 0;)
        {
            var read = file.Read(buffer, 0, (int)Math.Min(buffer.Length, left));
            hash.AppendData(buffer, 0, read);
            left -= read;
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
