using System.Globalization;
using StagedMargins.Core.Entries.Clinics;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Core;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>The moment as of which a case is sent.</summary>
/// <param name="Number">The last entry that is shown.</param>
/// <param name="At">When it was written.</param>
/// <param name="LaterEntries">Entries written since, which are not shown.</param>
public sealed record AsOfView(long Number, DateTimeOffset At, int LaterEntries);

/// <summary>A case as it is seen: now, or as it was known at a moment.</summary>
/// <param name="Known">The case by its entries.</param>
/// <param name="Settings">The clinic's settings, as they held then.</param>
/// <param name="Present">The clinic and its people now.</param>
/// <param name="AsOf">The moment; null for now.</param>
public sealed record SeenCase(KnownCase Known, ClinicSettings Settings, PresentClinic Present, AsOfView? AsOf)
{
    private static readonly string[] TimeForms = ["yyyy-MM-dd'T'HH:mmzzz", "yyyy-MM-dd'T'HH:mm:sszzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz"];

    /// <summary>The case.</summary>
    public SurgicalCase Case => field ??= Known.Case;

    /// <summary>The entries that made it.</summary>
    public IReadOnlyList<KnownEntry> Entries => Known.Entries;

    /// <summary>Its version.</summary>
    public int Version => Known.Version;

    /// <summary>The seal of its last entry, hexadecimal.</summary>
    public string Seal => Convert.ToHexStringLower(Known.Entries[^1].Hash.Span);

    /// <summary>That it is not the case as it is now, in words; null for now.</summary>
    public string? Notice => AsOf is { } asOf
        ? Sentences.AsKnownAt(asOf.Number.ToString(CultureInfo.InvariantCulture), ClinicalTime.From(asOf.At).InWords(), asOf.LaterEntries) + (IsRecalledSince ? $" {Sentences.Recall}" : "")
        : null;

    // An old map that reads as clear must not hide that the case is not clear any more.
    private bool IsRecalledSince { get; init; }

    /// <summary>Finds a case of the clinic in scope.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinics">The clinic and its people.</param>
    /// <param name="id">The case.</param>
    /// <param name="asOf">A number of its entries, or a time with its offset; null for now.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <exception cref="NotInRecordException">There is none, or there was none then.</exception>
    /// <exception cref="InvalidEntryException">The moment can't be read, or the case has no such entry.</exception>
    public static async Task<SeenCase> FindAsync(ClinicContext db, PresentClinics clinics, Guid id, string? asOf, CancellationToken cancel)
    {
        var (found, administeredAt) = await db.FindSeenAsync(id, cancel);
        var known = found ?? throw new NotInRecordException("Case not found.");
        var present = await clinics.FindAsync(db, known.ClinicId, administeredAt, cancel);
        var shown = string.IsNullOrEmpty(asOf) ? known.Version : CountAt(known.Entries, asOf);
        if (shown == known.Version)
        {
            return new SeenCase(known, ClinicEntries.SettingsOf(present.Clinic), present, null);
        }

        var then = known.UpTo(shown);
        var last = then.Entries[^1];
        return new SeenCase(then, await db.SettingsAtAsync(known.ClinicId, last.Number, cancel), present, new AsOfView(shown, last.At.ToDateTimeOffset(), known.Version - shown))
        {
            IsRecalledSince = known.Case.Recall,
        };
    }

    // Clocks step back, and numbers don't: everything up to the last entry that is not later than the time was known then.
    private static int CountAt(IReadOnlyList<KnownEntry> entries, string asOf)
    {
        if (asOf.All(char.IsAsciiDigit))
        {
            return int.TryParse(asOf, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 && number <= entries.Count
                ? number
                : throw new InvalidEntryException("asOf", $"The case has entries 1 to {entries.Count}.");
        }

        // A plus sign that was not escaped in the address comes as a space.
        var text = asOf.Replace(' ', '+');
        text = text.EndsWith('Z') ? $"{text[..^1]}+00:00" : text;
        if (!DateTimeOffset.TryParseExact(text, TimeForms, CultureInfo.InvariantCulture, DateTimeStyles.None, out var time))
        {
            throw new InvalidEntryException("asOf", "Give a number of the case's entries, or a time with its offset, for example 2026-03-03T09:10:00-05:00.");
        }

        var shown = entries.LastOrDefault(entry => entry.At.Utc <= time.UtcDateTime) is { } last ? (int)last.Version : 0;
        return shown > 0 ? shown : throw new NotInRecordException("The case had not been opened then.");
    }
}
