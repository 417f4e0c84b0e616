using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>The service dies under an open page and comes back: the page says so, and is current again by itself.</summary>
[Collection<SharedBrowser>]
public sealed class ServerAwayTests(BrowserSession session, PostgresServer server)
{
    [Fact]
    public async Task A_page_says_that_the_service_is_away_and_is_current_again_by_itself()
    {
        await using var clinic = new SqliteClinic(server);
        await clinic.InitializeAsync();
        await clinic.Host.DisposeAsync();
        await using var place = new Installation(clinic.Database.Settings);
        var first = await place.StartAsync();
        var address = await first.ListeningAsync();
        var surgeon = await place.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var id = await surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, at: address);
        await page.GotoAsync($"/cases/{id}");
        await Expect(page.Locator(".side .sentence >> nth=0")).ToContainTextAsync("A, B to be read");
        await Expect(page.Locator("#lost")).ToBeHiddenAsync();

        await first.KillAsync();
        await first.DisposeAsync();
        await Expect(page.Locator("#lost")).ToBeVisibleAsync();
        await Expect(page.Locator(".side .sentence >> nth=0")).ToContainTextAsync("A, B to be read");

        await using var second = await place.StartAsync();
        (await surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        await Expect(page.Locator("#lost")).ToBeHiddenAsync(new() { Timeout = 20_000 });
        await Expect(page.Locator(".side .sentence >> nth=0")).Not.ToContainTextAsync("A, B", new() { Timeout = 10_000 });
        await page.Context.CloseAsync();
    }
}
