using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>The two views of the map: by keyboard, without script, and never one taken for the other.</summary>
[Collection<SharedBrowser>]
public sealed class ViewTests(BrowserSession session)
{
    [Fact]
    public async Task The_slide_view_is_reached_by_keyboard_and_named_on_screen_and_in_the_picture()
    {
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{await session.Clinic.HalfReadCaseAsync()}");
        await Expect(page.Locator("nav[aria-label=View] [aria-current]")).ToHaveTextAsync("patient view");
        (await PictureAsync(page)).ShouldContain("Patient view: 3 o'clock on the right");

        await page.TabToAsync("nav[aria-label=View] a[href*='view=slide']");
        await page.Keyboard.PressAsync("Enter");

        await Expect(page.Locator("#slide-view")).ToContainTextAsync("Slide view: mirrored; 3 o'clock on the left");
        await Expect(page.Locator("nav[aria-label=View] [aria-current]")).ToHaveTextAsync("slide view (mirrored)");
        (await page.GetAttributeAsync("img.map-picture >> nth=0", "alt"))!.ShouldStartWith("Slide view: mirrored");
        (await PictureAsync(page)).ShouldContain("Slide view: mirrored; 3 o'clock on the left");
    }

    [Fact]
    public async Task The_slide_view_stays_while_one_steps_through_the_stages_and_needs_no_script()
    {
        var id = await session.Clinic.HalfReadCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.RouteAsync("**/*.js", route => route.AbortAsync());
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=slide view");
        await page.ClickAsync("text=blocks of stage 1");
        await Expect(page.Locator("#slide-view")).ToBeVisibleAsync();
        (await PictureAsync(page)).ShouldContain("Slide view");
        await page.ClickAsync("text=patient view");
        await Expect(page.Locator("#slide-view")).ToHaveCountAsync(0);
        (await PictureAsync(page)).ShouldNotContain("Slide view");
    }

    [Fact]
    public async Task The_map_on_the_screen_does_not_repeat_what_the_page_says()
    {
        var id = await session.Clinic.HalfReadCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, 390, 844);
        await page.GotoAsync($"/cases/{id}");
        var parts = System.Xml.Linq.XDocument.Parse(await PictureAsync(page)).Descendants().Select(element => element.Attribute("class")?.Value).OfType<string>().ToList();
        parts.ShouldContain("Unread");
        string[] left = ["Heading", "State", "Alert", "DisclaimerLine"];
        left.ShouldAllBe(part => !parts.Contains(part));
        await Expect(page.Locator("footer")).ToContainTextAsync("not a diagnosis");
    }

    private static async Task<string> PictureAsync(IPage page)
    {
        var answer = await page.APIRequest.GetAsync((await page.GetAttributeAsync("img.map-picture >> nth=0", "src"))!);
        answer.Status.ShouldBe(200);
        return await answer.TextAsync();
    }
}
