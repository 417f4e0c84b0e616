using System.Reflection;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Components;
using StagedMargins.Web.Screens;
using StagedMargins.Web.Tests.Access;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>Whatever stands in the address or the form of a page: it is answered as a page, never as an error of the program, and never logged as it was sent.</summary>
[RunsFirst]
public sealed partial class PageInputTests(PostgresServer server) : IDisposable
{
    private const string Marker = "qzSentText";

    // As they stand in an address, each with a text to look for in the log: these for each name alone,
    private static readonly string[] Each = [Marker, $"{Marker}%0d%0aX-Sent:%201", $"{Marker}%00", $"{Marker}%1b%5b31m", $"{Marker}{new string('x', 6000)}"];

    // and all of them for all names of a page at once.
    private static readonly string[] All =
    [
        .. Each, $"%ff%fe{Marker}", $"%ed%a0%80{Marker}", $"%e2%80%ae{Marker}", $"{Marker}%zz%", $"-{Marker}", $"99999999999999999999{Marker}", $"{Marker}%0a%5b12:00:00%20ERR%5d",
        $"/{Marker}%0d%0a", $"//{Marker}", $"/%5c{Marker}", $"1%00{Marker}", "-1", "0", "99999999999999999999", "2026-13", "0001-01", "",
    ];

    private readonly TempFolder home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task No_address_and_no_form_of_a_page_breaks_it_or_reaches_the_log_as_it_was_sent()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Postgres);
        await using var service = ServiceProcess.Start(home.Path, database.Environment(), "--urls", "http://127.0.0.1:0");
        var administrator = await service.FoundAsync(TestClinic.AdministratorEmail);
        await TestClinic.AddAsync(administrator, await service.StrangerAsync(), TestClinic.SurgeonEmail, "surgeon", "manager", "administrator");
        using var browser = new Browser(await service.ListeningAsync());
        (await browser.PostAsync("/api/auth/login?pages=true", new JsonObject { ["email"] = TestClinic.SurgeonEmail, ["password"] = TestClinic.Password })).Expect(204);
        var surgeon = await (await service.StrangerAsync()).SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var id = await surgeon.OpenWithLayerAsync();

        var faults = new List<string>();
        var (asked, address) = (0, await service.ListeningAsync());
        foreach (var (path, names) in Pages(id))
        {
            string[] queries = [.. names.SelectMany(name => Each.Select(value => $"{name}={value}")), .. All.Select(value => string.Join('&', names.Select(name => $"{name}={value}")))];
            foreach (var query in queries)
            {
                await ExpectAsync($"{path} {query[..Math.Min(query.Length, 60)]}", browser.SendAsync(To(address, HttpMethod.Get, $"{path}?{query}")));
            }

            foreach (var value in Each)
            {
                await ExpectAsync($"{path}/…", browser.SendAsync(To(address, HttpMethod.Get, $"{path.TrimEnd('/')}/{value}")));
                await ExpectAsync($"POST {path}", PostAsync(browser, address, path, [("_handler", value)]));
            }
        }

        foreach (var name in new[] { "email", "password", "twoFactorCode", "recoveryCode", "returnUrl" })
        {
            foreach (var value in name == "returnUrl" ? All : Each)
            {
                await ExpectAsync($"POST /sign-in {name}", PostAsync(browser, address, "/sign-in", [("email", $"{name}@clinic.invalid"), ("password", "not the password"), (name, value)]));
            }
        }

        await service.TerminateAsync();
        (await service.ExitCodeAsync()).ShouldBe(0);
        var log = service.Output + service.Errors;
        faults.Distinct().ShouldBeEmpty();
        asked.ShouldBeGreaterThan(400);
        log.Contains(Marker, StringComparison.OrdinalIgnoreCase).ShouldBeFalse();
        log.ShouldNotContain("Exception");
        Control().IsMatch(log).ShouldBeFalse();

        async Task ExpectAsync(string what, Task<Reply> answer)
        {
            asked++;
            var reply = await answer;
            if (reply.Status >= 500 || reply.Headers.ContainsKey("X-Sent") || (reply.Header("Location") ?? "").Contains(Marker, StringComparison.Ordinal) && !reply.Header("Location")!.StartsWith('/'))
            {
                faults.Add($"{what}: {reply.Status}");
            }
        }
    }

    /// <summary>Every page with the names its query may hold, and some that it does not know.</summary>
    private static IEnumerable<(string Path, string[] Names)> Pages(string id) =>
        from type in typeof(App).Assembly.GetTypes()
        from route in type.GetCustomAttributes<RouteAttribute>()
        let names = from property in type.GetProperties(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic)
                    where property.GetCustomAttribute<SupplyParameterFromQueryAttribute>() is not null
                    select property.GetCustomAttribute<SupplyParameterFromQueryAttribute>()!.Name ?? property.Name
        select (route.Template.Replace("{Id:guid}", id, StringComparison.Ordinal).Replace("{N:int}", "1", StringComparison.Ordinal), names.Append("returnUrl").Append("x").ToArray());

    private static async Task<Reply> PostAsync(Browser browser, Uri service, string path, (string Name, string Value)[] fields)
    {
        var token = (await browser.GetAsync("/api/auth/antiforgery")).Expect(200);
        var request = To(service, HttpMethod.Post, path);
        request.Headers.Add(token.Text("headerName"), token.Text("token"));
        var body = string.Join('&', fields.GroupBy(field => field.Name).Select(fieldOfName => $"{fieldOfName.Key}={fieldOfName.Last().Value}"));
        request.Content = new StringContent(body, Encoding.ASCII, "application/x-www-form-urlencoded");
        return await browser.SendAsync(request);
    }

    private static HttpRequestMessage To(Uri service, HttpMethod method, string path) =>
        new(method, new Uri($"{service.GetLeftPart(UriPartial.Authority)}{path}", new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true }));

    [GeneratedRegex(@"[\p{Cc}-[\r\n]]")]
    private static partial Regex Control();
}
