using System.Text;
using StagedMargins.Web.Identity;

namespace StagedMargins.Web.Tests.Access;

public sealed class TimeCodeTests
{
    /// <summary>RFC 6238, appendix B, the rows of SHA-1: time in seconds, code of eight digits, key of 20 ASCII digits.</summary>
    [Theory]
    [InlineData(59, "94287082")]
    [InlineData(1111111109, "07081804")]
    [InlineData(1111111111, "14050471")]
    [InlineData(1234567890, "89005924")]
    [InlineData(2000000000, "69279037")]
    [InlineData(20000000000, "65353130")]
    public void Codes_are_those_of_the_standard(long seconds, string code) =>
        TotpCodes.CodeAt(Encoding.ASCII.GetBytes("12345678901234567890"), seconds / 30, 8).ShouldBe(code);

    /// <summary>RFC 4226, appendix D: the first ten codes of six digits of the same key.</summary>
    [Fact]
    public void Codes_of_six_digits_are_those_of_the_standard() =>
        Enumerable.Range(0, 10).Select(step => TotpCodes.CodeAt(Encoding.ASCII.GetBytes("12345678901234567890"), step))
            .ShouldBe(["755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871", "520489"]);
}
