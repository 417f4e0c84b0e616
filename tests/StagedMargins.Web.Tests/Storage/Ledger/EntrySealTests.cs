using System.Text;
using StagedMargins.Core;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Tests.Storage.Ledger;

/// <summary>The seal of an entry, against a value worked out by other means, and against every change of it.</summary>
public class EntrySealTests
{
    private static readonly byte[] Key = [.. Enumerable.Range(0, 32).Select(value => (byte)value)];
    private static readonly byte[] Previous = [.. Enumerable.Repeat((byte)0xAB, 32)];

    private static readonly LedgerEntry Entry = new(
        Guid.Parse("01890a5d-ac96-774b-bcce-b302099a8057"),
        LedgerStreams.Record,
        2,
        4_711,
        new LedgerSubject("case", Guid.Parse("01890a5d-ac96-774b-bcce-b302099a8058"), 3),
        "recordReading",
        1,
        Guid.Parse("01890a5d-ac96-774b-bcce-b302099a8059"),
        ClinicalTime.From(new DateTimeOffset(2026, 3, 3, 9, 5, 7, 123, 456, TimeSpan.FromHours(-4))),
        new LedgerAuthor(Guid.Parse("01890a5d-ac96-774b-bcce-b302099a805a"), "M. Ashgrove <m.ashgrove@clinic.invalid>"),
        null,
        Encoding.UTF8.GetBytes("""{"stage":1,"block":"A","outcome":"clear","note":"größer"}"""));

    // Worked out with Python's hmac and struct by the layout in docs/ledger.md, not by this program.
    [Theory]
    [InlineData(null, "7d633e8a234a9b3ed4a3a822776829e08e786eead29870cd7f2864d03f6e5079")]
    [InlineData("""{"author":"elsewhere@clinic.invalid"}""", "d8a5ad55bdd1beeb749b2fc432ccd8b2c2e2355595f67ba1a8bcc79153b6f1c0")]
    public void Golden_vector(string? origin, string seal) =>
        Convert.ToHexStringLower(EntrySeal.Compute(Entry with { Origin = origin }, Previous, "k1", Key)).ShouldBe(seal);

    [Fact]
    public void Golden_vector_of_a_first_entry_without_a_subject() =>
        Convert.ToHexStringLower(EntrySeal.Compute(Entry with { Stream = LedgerStreams.Access, Number = 1, Subject = null }, [], "k1", Key)).ShouldBe("06a636219339b45faf40d2667146012ca7ad72006b6afbd80d6a896a9d263029");

    public static TheoryData<string, Func<LedgerEntry, LedgerEntry>> Changes => new()
    {
        { "clinic", entry => entry with { ClinicId = Guid.Empty } },
        { "stream", entry => entry with { Stream = LedgerStreams.Access } },
        { "epoch", entry => entry with { Epoch = 3 } },
        { "number", entry => entry with { Number = 4_712 } },
        { "subject", entry => entry with { Subject = null } },
        { "kind of subject", entry => entry with { Subject = entry.Subject! with { Kind = "patient" } } },
        { "id of subject", entry => entry with { Subject = entry.Subject! with { Id = Guid.Empty } } },
        { "number of subject", entry => entry with { Subject = entry.Subject! with { Number = 4 } } },
        { "kind", entry => entry with { Kind = "recordLayer" } },
        { "form", entry => entry with { Form = 2 } },
        { "request", entry => entry with { RequestId = Guid.Empty } },
        { "time", entry => entry with { At = entry.At with { Utc = entry.At.Utc.AddMicroseconds(1) } } },
        { "offset", entry => entry with { At = entry.At with { OffsetMinutes = 0 } } },
        { "author", entry => entry with { By = entry.By with { Id = Guid.Empty } } },
        { "name of the author", entry => entry with { By = entry.By with { Name = "R. Tidewell <m.ashgrove@clinic.invalid>" } } },
        { "origin", entry => entry with { Origin = "" } },
        { "body", entry => entry with { Body = entry.Body[..^1] } },
        // A length before each value keeps these two apart.
        { "kind and stream pushed together", entry => entry with { Stream = "recordr", Kind = "ecordReading" } },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public void A_seal_holds_until_anything_is_changed(string what, Func<LedgerEntry, LedgerEntry> change)
    {
        var whole = new SealedEntry(Entry, Previous, "k1", EntrySeal.Compute(Entry, Previous, "k1", Key));
        EntrySeal.Holds(whole, Key).ShouldBeTrue();
        EntrySeal.Holds(whole with { Entry = change(Entry) }, Key).ShouldBeFalse(what);
    }

    [Fact]
    public void A_seal_holds_for_its_key_its_key_s_name_and_the_seal_before_it_alone()
    {
        var whole = new SealedEntry(Entry, Previous, "k1", EntrySeal.Compute(Entry, Previous, "k1", Key));
        EntrySeal.Holds(whole, new byte[32]).ShouldBeFalse();
        EntrySeal.Holds(whole with { KeyId = "k2" }, Key).ShouldBeFalse();
        EntrySeal.Holds(whole with { PreviousHash = ReadOnlyMemory<byte>.Empty }, Key).ShouldBeFalse();
    }
}
