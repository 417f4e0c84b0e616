using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>Labels of blocks: the links to them, and what their address opens.</summary>
[Collection<SharedBrowser>]
public sealed class LabelTests(BrowserSession session)
{
    [Fact]
    public async Task The_address_of_a_label_opens_its_own_block_and_not_the_first_unread_one()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark?block=B");
        await Expect(page.Locator("#blocks button[aria-pressed=true]")).ToContainTextAsync("B");
        await page.ClickAsync("[data-outcome=clear]");
        await page.SentenceAsync("Stage 1, block B: clear");
    }

    [Fact]
    public async Task The_address_of_a_block_that_is_not_there_opens_no_other()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark?block=X");
        await Expect(page.Locator("main .alert.loud[role=alert]")).ToContainTextAsync("has no block with that label");
        await Expect(page.Locator("#mark-form")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task Map_and_record_lead_to_the_labels()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync($"/cases/{id}");
        await Expect(page.Locator($"a[href='/api/cases/{id}/labels.pdf?stage=1']")).ToHaveTextAsync("Labels of stage 1");
        await page.GotoAsync($"/cases/{id}/record");
        await Expect(page.Locator($"a[href='/api/cases/{id}/labels.pdf?paper=letter']")).ToHaveTextAsync("Labels, Letter");
    }
}
