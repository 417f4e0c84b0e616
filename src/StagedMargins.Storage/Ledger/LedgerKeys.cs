using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.Ledger;

/// <summary>
/// The keys that seal entries, kept outside the database. The last one seals; all of them are known for checking, so that a
/// key is renewed by adding one and never by taking one away.
/// </summary>
public sealed class LedgerKeys
{
    private const int Bytes = 32;
    private readonly Dictionary<string, byte[]> keys = [];
    private readonly ConcurrentDictionary<(string KeyId, string Info), byte[]> derived = [];

    private LedgerKeys(IEnumerable<string> lines)
    {
        foreach (var line in lines.Select(line => line.Trim()).Where(line => line.Length > 0 && line[0] != '#'))
        {
            var key = new byte[Bytes];
            if (line.Split(':') is not [{ Length: > 0 and <= 32 } id, var text] || !Convert.TryFromBase64String(text, key, out var length) || length != Bytes)
            {
                throw new FormatException("A history key is written NAME:BASE64, with 32 bytes behind the name.");
            }

            keys[CurrentId = id] = key;
        }

        if (CurrentId is null)
        {
            throw new FormatException("There is no history key.");
        }
    }

    /// <summary>The name of the key that seals.</summary>
    public string CurrentId { get; } = null!;

    /// <summary>Names of all keys known.</summary>
    public IReadOnlyCollection<string> Ids => keys.Keys;

    /// <summary>Reads keys, one a line, or in one line divided by semicolons; the current one last.</summary>
    /// <exception cref="FormatException">They can't be read.</exception>
    public static LedgerKeys Parse(string text) => new(text.Split(text.Contains('\n', StringComparison.Ordinal) ? '\n' : ';'));

    /// <summary>A line with a new key.</summary>
    /// <param name="id">Its name.</param>
    public static string NewLine(string id) => $"{id}:{Convert.ToBase64String(RandomNumberGenerator.GetBytes(Bytes))}";

    /// <summary>The key of a name, 32 bytes; null where it is not known.</summary>
    internal byte[]? Find(string keyId) => keys.GetValueOrDefault(keyId);

    /// <summary>The key that wraps data keys, derived from the key of a name, 32 bytes; null where that is not known.</summary>
    internal byte[]? FindWrapping(string keyId) => FindDerived(keyId, "Wrapping");

    /// <summary>A fingerprint from which nobody can guess what it is of: HMAC-SHA-256 under a key of its own, derived from the key of a name; null where that is not known.</summary>
    /// <param name="keyId">The name.</param>
    /// <param name="of">What it is of, in one word, which keeps its key and values apart from those of other fingerprints.</param>
    /// <param name="write">Writes the values.</param>
    internal byte[]? Fingerprint(string keyId, string of, Action<LengthPrefixed> write)
    {
        if (FindDerived(keyId, of) is not { } key)
        {
            return null;
        }

        var values = new LengthPrefixed().Text($"StagedMargins.{of}");
        write(values);
        return HMACSHA256.HashData(key, values.Written);
    }

    // HKDF-SHA-256 without salt.
    private byte[]? FindDerived(string keyId, string info) => Find(keyId) is { } key
        ? derived.GetOrAdd((keyId, info), _ => HKDF.DeriveKey(HashAlgorithmName.SHA256, key, Bytes, info: Encoding.UTF8.GetBytes($"StagedMargins.{info}Key")))
        : null;
}
