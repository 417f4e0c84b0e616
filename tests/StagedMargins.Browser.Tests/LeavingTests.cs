using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>What was marked or typed and not yet sent is not lost by a slip of the hand.</summary>
[Collection<SharedBrowser>]
public sealed class LeavingTests(BrowserSession session)
{
    [Fact]
    public async Task Marks_that_are_not_saved_are_asked_for_before_the_page_is_left()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        var asked = Answer(page);
        await page.GotoAsync($"/cases/{id}/stages/1/mark");
        await page.DrawOnEdgeAsync(90, 150);
        await page.SentenceAsync("block A: tumour at the peripheral margin, 1:30 to 2:30 o'clock.");
        await page.ClickAsync("nav a:has-text('Today')");
        asked.Said.ShouldBe(["What you marked is not saved. Leave anyway?"]);
        await page.SentenceAsync("block A: tumour at the peripheral margin, 1:30 to 2:30 o'clock.");
        await page.ClickAsync("#save");
        await page.SavedAsync();
        await page.ClickAsync("nav a:has-text('Today')");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Today");
        asked.Said.Count.ShouldBe(1);
    }

    [Fact]
    public async Task A_form_that_is_not_sent_is_asked_for_and_may_be_left()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        var asked = Answer(page);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Enter a dose");
        await page.FillAsync("#anaesthetic [name=volumeMl]", "3.5");
        await page.ClickAsync("nav a:has-text('Today')");
        await Expect(page.Locator("#anaesthetic [name=volumeMl]")).ToHaveValueAsync("3.5");
        asked.Leave = true;
        await page.ClickAsync("nav a:has-text('Today')");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Today");
        asked.Said.ShouldBe(["What you typed has not been sent. Leave anyway?", "What you typed has not been sent. Leave anyway?"]);
    }

    private static Asked Answer(IPage page)
    {
        var asked = new Asked();
        page.Dialog += async (_, dialog) =>
        {
            asked.Said.Add(dialog.Message);
            await (asked.Leave ? dialog.AcceptAsync() : dialog.DismissAsync());
        };
        return asked;
    }

    private sealed class Asked
    {
        public List<string> Said { get; } = [];

        public bool Leave { get; set; }
    }
}
