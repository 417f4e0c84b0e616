using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>A whole case on the screens, from intake to follow-up, by two people.</summary>
[Collection<SharedBrowser>]
public sealed class WholeCaseTests(BrowserSession session)
{
    [Fact]
    public async Task A_case_goes_from_intake_to_its_first_visit_on_the_screens()
    {
        var surgeon = await session.SignInAsync(TestClinic.SurgeonEmail);
        var bench = await session.SignInAsync(TestClinic.HistotechEmail);
        var address = await OpenAsync(surgeon);

        foreach (var page in new[] { surgeon, bench })
        {
            await page.GotoAsync(address);
            await page.ClickAsync("text=I confirm this site");
        }

        await Expect(bench.Locator("#site-confirmation")).ToContainTextAsync("Confirmed by two people.");
        await surgeon.GotoAsync(address);
        await DoseAsync(surgeon);
        await surgeon.GotoAsync(address);
        await surgeon.FillAsync("[name='pieces[0].outline.ellipse.lengthMm']", "14");
        await surgeon.FillAsync("[name='pieces[0].outline.ellipse.widthMm']", "10");
        await surgeon.ClickAsync("text=Record stage 1");
        await Expect(surgeon.Locator("text=Mark stage 1")).ToBeVisibleAsync();
        (await surgeon.Locator(".alert.loud:has-text('Site not confirmed')").CountAsync()).ShouldBe(0);

        await ClearAsync(bench, $"{address}/stages/1/mark");
        await surgeon.GotoAsync(address);
        await CountersignAsync(surgeon);
        await Expect(surgeon.Locator(".title-row .state")).ToHaveTextAsync("Cleared");
        await surgeon.ClickAsync("form[data-api$='/end'] button[type=submit]");
        await Expect(surgeon.Locator("main")).ToContainTextAsync("Readings can still be amended.");
        await AfterAsync(surgeon);

        await surgeon.GotoAsync($"{address}/record");
        foreach (var words in new[] { "60 mg", "Repair: graft", $"{TestClinic.HistotechEmail} confirmed", "Checked: the record is unchanged since it was written." })
        {
            await Expect(surgeon.Locator("main")).ToContainTextAsync(words, new() { IgnoreCase = true });
        }

        foreach (var file in await surgeon.Locator("main .actions a[href^='/api/']").EvaluateAllAsync<string[]>("links => links.map(link => link.getAttribute('href'))"))
        {
            (await surgeon.APIRequest.GetAsync(file)).Status.ShouldBe(200, file);
        }
    }

    private static async Task<string> OpenAsync(IPage page)
    {
        await page.GotoAsync("/cases/new");
        await page.FillAsync("[name=patientRef]", "K-70100");
        await page.FillAsync("[name=twelveOClock]", "toward the vertex");
        await page.FillAsync("[name='tumour.morphology']", "8090/3");
        await page.FillAsync("[name=weightKg]", "70");
        await page.ClickAsync("button:has-text('Open the case')");
        await page.ArriveAsync("**/cases/*-*");
        return new Uri(page.Url).AbsolutePath;
    }

    private static async Task DoseAsync(IPage page)
    {
        await page.ClickAsync("text=Enter a dose");
        await page.FillAsync("#anaesthetic [name=volumeMl]", "6");
        await page.SelectOptionAsync("#anaesthetic [name=adrenaline]", "true");
        await page.ClickAsync("text=Enter the dose, given now");
        await Expect(page.Locator("#anaesthetic")).ToContainTextAsync("60 mg");
    }

    // Block after block, read by the surgeon and marked by the histotech.
    private static async Task ClearAsync(IPage page, string address)
    {
        await page.GotoAsync(address);
        foreach (var block in new[] { "A", "B" })
        {
            await page.ClickAsync("[data-outcome=clear]");
            await page.SentenceAsync($"block {block}: clear");
            await page.ClickAsync("#save");
            await page.SavedAsync();
        }

        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Every block of this stage has a reading");
    }

    private static async Task CountersignAsync(IPage page)
    {
        for (var left = 1; left >= 0; left--)
        {
            await page.Locator("button:has-text('Countersign')").First.ClickAsync();
            await Expect(page.Locator("button:has-text('Countersign')")).ToHaveCountAsync(left);
        }
    }

    private static async Task AfterAsync(IPage page)
    {
        await page.ClickAsync("text=Enter a repair");
        await page.SelectOptionAsync("#after [name=kind]", "graft");
        var today = await page.InputValueAsync("#after [name=repairedOn]");
        await page.ClickAsync("#after button:has-text('Enter the repair')");
        await Expect(page.Locator("#after")).ToContainTextAsync("Repair: graft");
        await page.ReloadAsync();
        await page.ClickAsync("text=Enter a visit");
        await page.SelectOptionAsync("#after [name=recurrence]", "false");
        await page.ClickAsync("#after button:has-text('Enter the visit')");
        await Expect(page.Locator("#after table")).ToContainTextAsync(today);
    }
}
