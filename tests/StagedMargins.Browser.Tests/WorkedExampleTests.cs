using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>The worked example of the rules, done wholly by hand on the screens.</summary>
[Collection<SharedBrowser>]
public sealed class WorkedExampleTests(BrowserSession session)
{
    [Fact]
    public async Task The_worked_example_is_done_by_pointer_from_intake_to_closing()
    {
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync("/cases/new");
        await page.FillAsync("[name=patientRef]", "K-70001");
        await page.FillAsync("[name=twelveOClock]", "toward the vertex");
        await page.FillAsync("[name='tumour.morphology']", "8090/3");
        await page.ClickAsync("button:has-text('Open the case')");

        await page.FillAsync("[name='pieces[0].outline.ellipse.lengthMm']", "14");
        await page.FillAsync("[name='pieces[0].outline.ellipse.widthMm']", "10");
        await page.ClickAsync("text=Record stage 1");
        await page.ClickAsync("text=Mark stage 1");

        await page.ClickAsync("[data-outcome=clear]");
        await page.SentenceAsync("Stage 1, block A: clear");
        await page.ClickAsync("#save");
        await page.SavedAsync();
        await page.DrawOnEdgeAsync(450, 540);
        await page.SentenceAsync("Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Every block of this stage has a reading");

        await TakeLayerAsync(page, 2, targetFrom: "07:15", targetTo: "09:15", from: "07:45", to: "09:15", says: "Tumour left behind: peripheral margin, 7:30 to 7:45 o'clock");
        await ClearAsync(page, 2);
        await page.GotoAsync(CaseOf(page));
        await page.ClickAsync("text=End the case");
        await Expect(page.Locator("form[data-api$='/end']")).ToContainTextAsync("Tumour outstanding at the peripheral margin, 7:30 to 7:45 o'clock");
        (await page.Locator("option[value=cleared]").CountAsync()).ShouldBe(0);

        await TakeLayerAsync(page, 3, targetFrom: "07:15", targetTo: "08:00", from: "07:15", to: "08:00", says: "Takes the whole target");
        await ClearAsync(page, 3);
        await page.GotoAsync(CaseOf(page));
        await Expect(page.Locator(".title-row .state")).ToHaveTextAsync("Cleared");
        await page.ClickAsync("form[data-api$='/end'] button[type=submit]");
        await Expect(page.Locator("main")).ToContainTextAsync("Readings can still be amended.");
    }

    [Fact]
    public async Task The_worked_example_is_done_by_keyboard_alone_from_intake_to_the_printed_record()
    {
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync("/cases/new");
        await page.TabTypeAsync("[name=patientRef]", "K-70002");
        await page.TabTypeAsync("[name=twelveOClock]", "toward the vertex");
        await page.TabTypeAsync("[name='tumour.morphology']", "8090/3");
        await page.Keyboard.PressAsync("Enter");
        await page.ArriveAsync("**/cases/*-*");
        await page.TabTypeAsync("[name='pieces[0].outline.ellipse.lengthMm']", "14");
        await page.TabTypeAsync("[name='pieces[0].outline.ellipse.widthMm']", "10");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("text=Mark stage 1")).ToBeVisibleAsync();
        await page.TabToAsync("a[href$='/stages/1/mark']");
        await page.Keyboard.PressAsync("Enter");
        await page.ArriveAsync("**/mark");

        await page.TabToAsync("[data-outcome=clear]");
        await page.Keyboard.PressAsync("Enter");
        await page.SentenceAsync("block A: clear");
        await page.TabToAsync("#save");
        await page.Keyboard.PressAsync("Enter");
        await page.SavedAsync();

        await page.ReloadAsync();
        await page.TabToAsync(".sector");
        await page.TabToAsync("[data-step='30']");
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Shift+Tab");
        await page.Keyboard.PressAsync("Shift+Tab");
        foreach (var place in new[] { "peripheral 450", "peripheral 480", "peripheral 510" })
        {
            await GoToSectorAsync(page, place);
            await page.Keyboard.PressAsync("Space");
        }

        await page.SentenceAsync("Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await page.TabToAsync("#save");
        await page.Keyboard.PressAsync("Enter");
        await page.SavedAsync();

        await LayerByKeyboardAsync(page, 2, target: ("07:15", "09:15"), from: "07:45", to: "09:15", says: "Tumour left behind: peripheral margin, 7:30 to 7:45 o'clock");
        await ClearByKeyboardAsync(page, 2);
        await LayerByKeyboardAsync(page, 3, target: ("07:15", "08:00"), from: "07:15", to: "08:00", says: "Takes the whole target");
        await ClearByKeyboardAsync(page, 3);
        await ToTheMapAsync(page);
        await Expect(page.Locator(".title-row .state")).ToHaveTextAsync("Cleared");
        await page.TabToAsync("form[data-api$='/end'] button[type=submit]");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("main")).ToContainTextAsync("Readings can still be amended.");

        await PrintByKeyAsync(page);
    }

    private static async Task ToTheMapAsync(IPage page)
    {
        var map = CaseOf(page);
        await page.TabToAsync($"main a[href='{map}']");
        await page.Keyboard.PressAsync("Enter");
        await page.ArriveAsync($"**{map}");
        await Expect(page.Locator("nav[aria-label=View]")).ToBeVisibleAsync();
    }

    private static async Task LayerByKeyboardAsync(IPage page, int number, (string From, string To) target, string from, string to, string says)
    {
        await ToTheMapAsync(page);
        await Expect(page.Locator("[name='pieces[0].arc.from']")).ToHaveValueAsync(target.From);
        await Expect(page.Locator("[name='pieces[0].arc.to']")).ToHaveValueAsync(target.To);
        foreach (var field in new[] { "pieces[0]", "blocks[0]" })
        {
            await page.TabTypeAsync($"[name='{field}.arc.from']", from);
            await page.TabTypeAsync($"[name='{field}.arc.to']", to);
        }

        await Expect(page.Locator("[data-said]")).ToContainTextAsync(says);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator($"text=Mark stage {number}")).ToBeVisibleAsync();
    }

    private static async Task ClearByKeyboardAsync(IPage page, int stage)
    {
        await page.TabToAsync($"a[href$='/stages/{stage}/mark']");
        await page.Keyboard.PressAsync("Enter");
        await page.ArriveAsync("**/mark");
        await page.TabToAsync("[data-outcome=clear]");
        await page.Keyboard.PressAsync("Enter");
        await page.SentenceAsync($"Stage {stage}, block A: clear");
        await page.TabToAsync("#save");
        await page.Keyboard.PressAsync("Enter");
        await page.SavedAsync();
    }

    // The browser's own print dialogue has no hands here; that it was asked for is what counts.
    private static async Task PrintByKeyAsync(IPage page)
    {
        await page.AddInitScriptAsync("window.print = () => { document.documentElement.dataset.printed = 'yes'; }");
        await page.ReloadAsync();
        await page.Keyboard.PressAsync("p");
        await page.ArriveAsync("**/record?print=1");
        await Expect(page.Locator("html")).ToHaveAttributeAsync("data-printed", "yes");
        await Expect(page.Locator("main")).ToContainTextAsync("Checked: the record is unchanged since it was written.");
        await Expect(page.Locator(".record .stage")).ToHaveCountAsync(3);
        await Expect(page.Locator("main")).ToContainTextAsync("tumour at the peripheral margin, 7:30 to 9 o'clock");
        foreach (var map in await page.Locator("img.map-picture").AllAsync())
        {
            (await map.EvaluateAsync<bool>("picture => picture.complete && picture.naturalWidth > 0")).ShouldBeTrue();
        }

        await Expect(page.Locator("footer")).ToContainTextAsync("not a diagnosis");
    }

    private static async Task GoToSectorAsync(IPage page, string place)
    {
        for (var i = 0; i < 30; i++)
        {
            if (await page.EvaluateAsync<string?>("document.activeElement?.dataset?.place ?? null") == place)
            {
                return;
            }

            await page.Keyboard.PressAsync("ArrowRight");
        }

        throw new InvalidOperationException("The arrow keys do not reach the sector.");
    }

    private static async Task TakeLayerAsync(IPage page, int number, string targetFrom, string targetTo, string from, string to, string says)
    {
        await page.GotoAsync(CaseOf(page));
        (await page.InputValueAsync("[name='pieces[0].arc.from']")).ShouldBe(targetFrom);
        (await page.InputValueAsync("[name='pieces[0].arc.to']")).ShouldBe(targetTo);
        foreach (var field in new[] { "pieces[0]", "blocks[0]" })
        {
            await page.FillAsync($"[name='{field}.arc.from']", from);
            await page.FillAsync($"[name='{field}.arc.to']", to);
        }

        await Expect(page.Locator("[data-said]")).ToContainTextAsync(says);
        await Expect(page.Locator("#rehearsed img")).ToBeVisibleAsync();
        await page.ClickAsync($"text=Record stage {number}");
        await Expect(page.Locator($"text=Mark stage {number}")).ToBeVisibleAsync();
    }

    private static async Task ClearAsync(IPage page, int stage)
    {
        await page.ClickAsync($"text=Mark stage {stage}");
        await page.ClickAsync("[data-outcome=clear]");
        await page.SentenceAsync($"Stage {stage}, block A: clear");
        await page.ClickAsync("#save");
        await page.SavedAsync();
    }

    private static string CaseOf(IPage page) => new Uri(page.Url).AbsolutePath.Split("/stages/")[0];
}
