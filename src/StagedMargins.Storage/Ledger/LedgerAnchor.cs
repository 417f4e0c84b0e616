using System.Globalization;
using System.Text.RegularExpressions;

namespace StagedMargins.Storage.Ledger;

/// <summary>
/// The end of a stream at a moment, written as <c>CLINIC/STREAM/EPOCH/NUMBER:HASH</c>. Kept outside the database, it finds a record
/// that was put back to an earlier day, whole or in part.
/// </summary>
/// <param name="ClinicId">The clinic.</param>
/// <param name="Stream">The stream.</param>
/// <param name="Epoch">The epoch.</param>
/// <param name="Number">The number of the last entry then.</param>
/// <param name="Hash">Its seal, hexadecimal.</param>
public sealed partial record LedgerAnchor(Guid ClinicId, string Stream, int Epoch, long Number, string Hash)
{
    /// <summary>The head of a stream as it is now.</summary>
    public static LedgerAnchor Of(LedgerHead head) => new(head.ClinicId, head.Stream, head.Epoch, head.Number, Convert.ToHexStringLower(head.Hash));

    /// <summary>Reads one as it is written.</summary>
    /// <exception cref="FormatException">It is not of that form.</exception>
    public static LedgerAnchor Parse(string text)
    {
        var match = Form().Match(text);
        return match.Success
            ? new LedgerAnchor(
                Guid.Parse(match.Groups[1].ValueSpan),
                match.Groups[2].Value,
                int.Parse(match.Groups[3].ValueSpan, CultureInfo.InvariantCulture),
                long.Parse(match.Groups[4].ValueSpan, CultureInfo.InvariantCulture),
                match.Groups[5].Value)
            : throw new FormatException("A head is written CLINIC/STREAM/EPOCH/NUMBER:HASH.");
    }

    /// <inheritdoc/>
    public override string ToString() => FormattableString.Invariant($"{ClinicId:D}/{Stream}/{Epoch}/{Number}:{Hash}");

    [GeneratedRegex(@"\A([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})/([a-z]{1,40})/([0-9]{1,9})/([0-9]{1,18}):([0-9a-f]{64})\z", RegexOptions.CultureInvariant)]
    private static partial Regex Form();
}
