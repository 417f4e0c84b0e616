using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Identity;

/// <summary>
/// Time codes of an authenticator app: RFC 6238 with HMAC-SHA-1, 30 s, six digits, which is what every app takes. The code of
/// the step before and after is taken too, and none twice (RFC 6238 section 5.2).
/// </summary>
/// <param name="clock">The clock.</param>
public sealed class TotpCodes(TimeProvider clock) : AuthenticatorTokenProvider<Person>
{
    private const int StepSeconds = 30;
    private const int Digits = 6;
    private const string Base32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    /// <inheritdoc/>
    public override async Task<bool> ValidateAsync(string purpose, string token, UserManager<Person> manager, Person user)
    {
        var typed = string.Concat(token.Where(char.IsAsciiDigit));
        if (typed.Length != Digits || await manager.GetAuthenticatorKeyAsync(user) is not { } key)
        {
            return false;
        }

        var now = clock.GetUtcNow().ToUnixTimeSeconds() / StepSeconds;
        var step = Enumerable.Range(-1, 3).Select(away => now + away)
            .FirstOrDefault(step => step > user.LastTimeStep && CryptographicOperations.FixedTimeEquals(Ascii(CodeAt(Decode(key), step)), Ascii(typed)));
        if (step == 0)
        {
            return false;
        }

        // The save fails where another request took a code meanwhile.
        user.LastTimeStep = step;
        return (await manager.UpdateAsync(user)).Succeeded;
    }

    /// <summary>The code of a time step (RFC 4226 section 5.3 over RFC 6238 section 4.2).</summary>
    /// <param name="key">The shared key.</param>
    /// <param name="step">Whole steps of 30 s since 1970-01-01 UTC.</param>
    /// <param name="digits">Digits of the code.</param>
    public static string CodeAt(byte[] key, long step, int digits = Digits)
    {
        Span<byte> counter = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64BigEndian(counter, step);

        // HMAC-SHA-1 is what the standard says and the apps do; its strength does not rest on collisions.
#pragma warning disable CA5350
        var hash = HMACSHA1.HashData(key, counter);
#pragma warning restore CA5350
        var code = BinaryPrimitives.ReadInt32BigEndian(hash.AsSpan(hash[^1] & 0xf)) & 0x7fffffff;
        return (code % (int)Math.Pow(10, digits)).ToString(CultureInfo.InvariantCulture).PadLeft(digits, '0');
    }

    /// <summary>What an authenticator app reads, mostly as a QR code.</summary>
    /// <param name="clinic">The clinic's name.</param>
    /// <param name="email">The person's address.</param>
    /// <param name="key">The shared key, base 32.</param>
    public static string UriFor(string clinic, string email, string key) =>
        $"otpauth://totp/{Uri.EscapeDataString($"StagedMargins {clinic}:{email}")}?secret={key}&issuer={Uri.EscapeDataString($"StagedMargins {clinic}")}&algorithm=SHA1&digits={Digits}&period={StepSeconds}";

    private static byte[] Ascii(string text) => System.Text.Encoding.ASCII.GetBytes(text);

    private static byte[] Decode(string key)
    {
        var bytes = new byte[key.Length * 5 / 8];
        for (var bit = 0; bit < bytes.Length * 8; bit++)
        {
            var value = Base32.IndexOf(key[bit / 5], StringComparison.Ordinal);
            bytes[bit / 8] |= (byte)((value >> (4 - (bit % 5)) & 1) << (7 - (bit % 8)));
        }

        return bytes;
    }
}
