using System.Security.Cryptography;
using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Tests.Entries;

/// <summary>Words in entries: encrypted under the key of their subject, and bound to the place where they stand.</summary>
public class EncryptedWordsTests
{
    private const string Text = "Läsion an der Nasenflügelfalte, 9 × 7 mm";
    private static readonly byte[] ServiceKey = [.. Enumerable.Range(0, 32).Select(value => (byte)value)];
    private static readonly Guid Clinic = Guid.Parse("01890a5d-ac96-774b-bcce-b302099a8057");
    private static readonly Guid Subject = Guid.Parse("01890a5d-ac96-774b-bcce-b302099a8058");
    private static readonly WordsPlace Place = new(Clinic, "case", Subject, "recordReading", 1, "note");

    // Encrypted with Python's cryptography (OpenSSL) by the layout in docs/ledger.md, not by this program.
    private const string GoldenKey = "AQABAgMEBQYHCAkKCyNnsHytjKhw4Sz55MGYCh73o/FDiAIlB0Qam/qd6IIxSF4111QZ2x1tFS8KWUf/4A==";
    private const string GoldenWords = "AQABAgMEBQYHCAkKC9NonD/UIq/J/H2+rPPoqPyIZFj+S28TmaB3hW0ygDWFnBb19O69Iv2ivI0DHuy7aDdk5d2t+2BMkd6v";

    [Fact]
    public void Golden_vector_of_a_wrapped_key_and_of_words_under_it() => DataKey.Unwrap(Convert.FromBase64String(GoldenKey), Clinic, "case", Subject, ServiceKey)
        .Decrypt(Convert.FromBase64String(GoldenWords), Place).ShouldBe(Text);

    [Theory]
    [InlineData("")]
    [InlineData("a")]
    [InlineData(Text)]
    public void Words_come_back_as_they_were_written(string text)
    {
        var key = DataKey.Create();
        var words = key.Encrypt(text, Place);
        key.Decrypt(words, Place).ShouldBe(text);
        DataKey.Unwrap(key.Wrap(Clinic, "case", Subject, ServiceKey), Clinic, "case", Subject, ServiceKey).Decrypt(words, Place).ShouldBe(text);
    }

    [Fact]
    public void The_same_words_never_look_the_same_and_say_nothing_of_themselves()
    {
        var key = DataKey.Create();
        var (first, second) = (key.Encrypt(Text, Place), key.Encrypt(Text, Place));
        first.ShouldNotBe(second);
        Words.Of(Text)!.ToString().ShouldBe("words");
    }

    public static TheoryData<string, WordsPlace> OtherPlaces => new()
    {
        { "clinic", Place with { ClinicId = Guid.Empty } },
        { "kind of subject", Place with { SubjectKind = "patient" } },
        { "subject", Place with { SubjectId = Guid.Empty } },
        { "kind of entry", Place with { Kind = "recordLayer" } },
        { "form", Place with { Form = 2 } },
        { "field", Place with { Field = "reason" } },
    };

    [Theory]
    [MemberData(nameof(OtherPlaces))]
    public void Words_moved_elsewhere_are_refused(string what, WordsPlace elsewhere)
    {
        var key = DataKey.Create();
        var words = key.Encrypt(Text, Place);
        Should.Throw<CryptographicException>(() => key.Decrypt(words, elsewhere), what);
    }

    [Fact]
    public void Every_changed_byte_and_every_shorter_text_is_refused()
    {
        var key = DataKey.Create();
        var whole = key.Encrypt(Text, Place);
        for (var i = 0; i < whole.Length; i++)
        {
            byte[] damaged = [.. whole[..i], (byte)(whole[i] ^ 1), .. whole[(i + 1)..]];
            Should.Throw<CryptographicException>(() => key.Decrypt(damaged, Place));
            Should.Throw<CryptographicException>(() => key.Decrypt(whole.AsSpan(0, i), Place));
        }
    }

    [Fact]
    public void A_key_of_another_subject_or_service_opens_nothing()
    {
        var key = DataKey.Create();
        var wrapped = key.Wrap(Clinic, "case", Subject, ServiceKey);
        Should.Throw<CryptographicException>(() => DataKey.Create().Decrypt(key.Encrypt(Text, Place), Place));
        Should.Throw<CryptographicException>(() => DataKey.Unwrap(wrapped, Clinic, "case", Subject, new byte[32]));
        Should.Throw<CryptographicException>(() => DataKey.Unwrap(wrapped, Clinic, "case", Clinic, ServiceKey));
        Should.Throw<CryptographicException>(() => DataKey.Unwrap(wrapped, Clinic, "patient", Subject, ServiceKey));
    }
}
