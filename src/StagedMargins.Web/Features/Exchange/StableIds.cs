using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>Numbers that follow from another number and a name, so that the same thing has the same number whenever it is sent.</summary>
internal static class StableIds
{
    private const int Bytes = 16;

    /// <summary>A UUID of version 8 (RFC 9562, section 5.8), from SHA-256 of the number and the name.</summary>
    /// <param name="owner">The number it belongs to.</param>
    /// <param name="name">What of it.</param>
    internal static Guid Derive(Guid owner, string name)
    {
        var hash = SHA256.HashData([.. owner.ToByteArray(bigEndian: true), .. Encoding.UTF8.GetBytes(name)]).AsSpan(0, Bytes);
        hash[6] = (byte)((hash[6] & 0x0F) | 0x80);
        hash[8] = (byte)((hash[8] & 0x3F) | 0x80);
        return new Guid(hash, bigEndian: true);
    }

    /// <summary>A number as an absolute address.</summary>
    internal static string Urn(Guid id) => string.Create(CultureInfo.InvariantCulture, $"urn:uuid:{id:D}");
}
