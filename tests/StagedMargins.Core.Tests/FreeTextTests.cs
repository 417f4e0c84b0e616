namespace StagedMargins.Core.Tests;

public sealed class FreeTextTests
{
    [Theory]
    [InlineData(null, null)]
    [InlineData("", null)]
    [InlineData(" \t\n ", null)]
    [InlineData(" nerve at risk ", "nerve at risk")]
    [InlineData("first line\nsecond\tline", "first line\nsecond\tline")]
    [InlineData("naevus – Ж 皮 🙂", "naevus – Ж 皮 🙂")]
    public void Text_is_trimmed_and_blank_is_nothing(string? text, string? kept) => FreeText.Optional("note", text).ShouldBe(kept);

    [Theory]
    [InlineData("a\0b")]
    [InlineData("a\u0007b")]
    [InlineData("a\u001bb")]
    [InlineData("a\u0085b")]
    public void Control_characters_are_refused(string text) => Refusal.OfEntry("note", () => FreeText.Optional("note", text)).Message.ShouldNotContain(text);

    [Fact]
    public void Half_a_character_is_refused_as_no_database_takes_it()
    {
        Refusal.OfEntry("note", () => FreeText.Optional("note", "a\ud83d"));
        Refusal.OfEntry("note", () => FreeText.Optional("note", "\ude42a"));
        Refusal.OfEntry("note", () => FreeText.Optional("note", "a\ude42\ud83db"));
    }

    [Fact]
    public void Text_may_be_just_so_long()
    {
        FreeText.Optional("note", new string('x', FreeText.Longest))!.Length.ShouldBe(4_000);
        Refusal.OfEntry("note", () => FreeText.Optional("note", new string('x', FreeText.Longest + 1))).Message.ShouldContain("4001");
        FreeText.Optional("note", "  abc  ", longest: 3).ShouldBe("abc");
    }

    [Theory]
    [InlineData(null)]
    [InlineData("  ")]
    public void Required_text_must_be_there(string? text) => Refusal.OfEntry("plan", () => FreeText.Required("plan", text));
}
