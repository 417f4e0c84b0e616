using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>The site is confirmed on the map by two people, and it is loud where it was not.</summary>
[Collection<SharedBrowser>]
public sealed class SiteConfirmationTests(BrowserSession session)
{
    [Fact]
    public async Task Two_people_confirm_the_site_on_the_map_before_the_first_layer()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        var first = await session.SignInAsync(TestClinic.SurgeonEmail);
        await first.GotoAsync($"/cases/{id}");
        await Expect(first.Locator("#site-confirmation")).ToContainTextAsync("left, alar crease (C44.3)");
        await first.ClickAsync("text=I confirm this site");
        await Expect(first.Locator("#site-confirmation")).ToContainTextAsync("A second person must still confirm it");
        var second = await session.SignInAsync(TestClinic.HistotechEmail);
        await second.GotoAsync($"/cases/{id}");
        await second.ClickAsync("text=I confirm this site");
        await Expect(second.Locator("#site-confirmation")).ToContainTextAsync("Confirmed by two people.");
        (await second.Locator("[name=reasonForUnconfirmedSite]").CountAsync()).ShouldBe(0);
    }

    [Fact]
    public async Task A_first_layer_without_both_asks_for_the_reason_and_stays_loud()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.FillAsync("[name=reasonForUnconfirmedSite]", "second person called away");
        await page.ClickAsync("text=Record stage 1");
        await Expect(page.Locator(".alert.loud:has-text('Site not confirmed')")).ToContainTextAsync("second person called away");
    }

    [Fact]
    public async Task The_map_gives_the_T_categories_with_what_is_missing()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync(Some.Case().With("tumour.morphology", "8070/3"));
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await Expect(page.Locator("#risk")).ToContainTextAsync("AJCC 8, head and neck: at least T1");
        await Expect(page.Locator("#risk")).ToContainTextAsync("Not entered, may raise it: depth of invasion");
        await Expect(page.Locator("#risk")).ToContainTextAsync("Not a diagnosis.");
    }
}
