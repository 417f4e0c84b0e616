using StagedMargins.Web.Identity;

namespace StagedMargins.Web.Tests.Access;

public sealed class PasswordRulesTests
{
    private static readonly string[] About = ["t.overbrook@clinic.invalid", "Tamsin Overbrook", "Harrowdene Skin Surgery"];

    [Theory]
    [InlineData("short phrase")]
    [InlineData("five plain words in rows")]
    [InlineData("Kornblume-Ziegel-Walnuss")]
    [InlineData("ταχύ καφέ ποτάμι")]
    [InlineData("vb7#qLw2!zTr")]
    public void A_long_phrase_that_nobody_expects_is_taken(string password) => PasswordRules.WhyNot(password, About).ShouldBeNull();

    [Theory]
    [InlineData("elevenchars")]
    [InlineData("ελέφαντες")]
    [InlineData("")]
    public void A_short_one_is_refused_by_its_length(string password) => PasswordRules.WhyNot(password, About)!.ShouldContain("12");

    [Theory]
    [InlineData("password1234")]
    [InlineData("Passw0rdP@ssw0rd")]
    [InlineData("letmein123456")]
    [InlineData("Welcome2026!!")]
    [InlineData("qwertyuiop[]")]
    [InlineData("123456789012345")]
    [InlineData("abcdefghijklmnop")]
    [InlineData("aaaaaaaaaaaaaaaa")]
    [InlineData("xyzxyzxyzxyzxyz")]
    [InlineData("administrator1!")]
    [InlineData("correct horse battery staple")]
    [InlineData("stagedmargins2026")]
    [InlineData("t.overbrook-2026")]
    [InlineData("Overbrook2026!")]
    [InlineData("harrowdeneskinsurgery")]
    [InlineData("Harrowdene2026")]
    [InlineData("zxcvbnmasdfghjkl")]
    public void One_that_guessing_starts_with_is_refused(string password) => PasswordRules.WhyNot(password, About)!.ShouldContain("guess");

    [Theory]
    [InlineData("n7c1234e90d5b2f8a6@clinic.invalid", "n7c1234e90d5b2f8a612")]
    [InlineData("q.lkjhgt9v3x.abcdw@clinic.invalid", "q.lkjhgt9v3x.abcdw2026")]
    [InlineData("admin5678tqvz9k@clinic.invalid", "zz-admin5678tqvz9k-zz")]
    public void An_address_that_holds_a_run_or_a_common_word_is_still_found(string email, string password) =>
        PasswordRules.WhyNot(password, [email]).ShouldNotBeNull().ShouldContain("guess");

    [Fact]
    public void One_too_long_to_hash_and_one_that_cannot_be_typed_are_refused()
    {
        PasswordRules.WhyNot(string.Concat(Enumerable.Range(0, 300).Select(i => (char)('a' + (i * 7 % 26)))), About)!.ShouldContain("256");
        PasswordRules.WhyNot("vb7#qLw2\u0000zTrkk", About)!.ShouldContain("Control");
    }
}
