using StagedMargins.Web.Tests.Access;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.SignIn;

/// <summary>Where one lands after signing in: a page of this service, or Today.</summary>
[Collection<OnSqlite>]
public sealed class ReturnTests(SqliteClinic clinic)
{
    [Theory]
    [InlineData("/cases?status=open&q=%C3%A4", "/cases?status=open&q=%C3%A4")]
    [InlineData("/", "/")]
    [InlineData(null, "/")]
    [InlineData("", "/")]
    [InlineData("cases", "/")]
    [InlineData("~/cases", "/")]
    [InlineData("//elsewhere.invalid", "/")]
    [InlineData("/\\elsewhere.invalid", "/")]
    [InlineData("/cases\\x", "/")]
    [InlineData("https://elsewhere.invalid", "/")]
    [InlineData("/cases\r\nX-Sent: 1", "/")]
    [InlineData("/\t/elsewhere.invalid", "/")]
    [InlineData("/cases\u001b[31m", "/")]
    [InlineData("/cases\u007f", "/")]
    [InlineData("/cases ", "/")]
    [InlineData("/c\u00e4ses", "/")]
    public async Task Only_a_printable_path_of_this_service_is_gone_back_to(string? asked, string lands)
    {
        (await SignInAsync(asked, TestClinic.Password)).Header("Location").ShouldBe(lands);
        var again = await SignInAsync(asked, "not the password");
        again.Header("Location").ShouldBe($"/sign-in?failed=notSignedIn&returnUrl={Uri.EscapeDataString(lands)}");
    }

    private async Task<Reply> SignInAsync(string? returnUrl, string password)
    {
        var email = $"r{Guid.NewGuid():N}@clinic.invalid";
        await clinic.AddAsync(email, "surgeon");
        using var browser = new Browser(clinic.Host.Address);
        var token = (await browser.GetAsync("/api/auth/antiforgery")).Expect(200);
        var fields = new Dictionary<string, string> { ["email"] = email, ["password"] = password };
        if (returnUrl is not null)
        {
            fields["returnUrl"] = returnUrl;
        }

        var request = new HttpRequestMessage(HttpMethod.Post, "/sign-in") { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add(token.Text("headerName"), token.Text("token"));
        return (await browser.SendAsync(request)).Expect(302);
    }
}
