using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>What happens to a form that is open while someone else changes the record.</summary>
[Collection<SharedBrowser>]
public sealed class OpenFormTests(BrowserSession session)
{
    private const string Volume = "#anaesthetic [name=volumeMl]";

    [Fact]
    public async Task What_someone_types_stays_and_the_page_says_that_it_is_out_of_date()
    {
        var (id, page) = await OpenAsync();
        await page.ClickAsync("text=Enter a dose");
        await page.FillAsync(Volume, "3.5");
        await ReadBlockAsync(id);
        await Expect(page.Locator("#out-of-date")).ToContainTextAsync("What you typed is still here", new() { Timeout = 5_000 });
        await Expect(page.Locator(Volume)).ToHaveValueAsync("3.5");
        await Expect(page.Locator(".side .sentence >> nth=0")).ToContainTextAsync("A, B to be read");

        await page.ClickAsync("#out-of-date button");
        await Expect(page.Locator(".side .sentence >> nth=0")).Not.ToContainTextAsync("A, B");
        await Expect(page.Locator("#out-of-date")).ToBeHiddenAsync();
        await Expect(page.Locator(Volume)).ToHaveValueAsync("");
    }

    [Fact]
    public async Task An_opened_form_stays_open_while_the_page_shows_the_change()
    {
        var (id, page) = await OpenAsync();
        await page.ClickAsync("text=Enter a dose");
        await ReadBlockAsync(id);
        await Expect(page.Locator(".side .sentence >> nth=0")).Not.ToContainTextAsync("A, B", new() { Timeout = 5_000 });
        await Expect(page.Locator(Volume)).ToBeVisibleAsync();
        await Expect(page.Locator("#out-of-date")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task A_layer_judged_by_an_earlier_state_is_not_recorded_even_where_no_event_came()
    {
        var id = await session.Clinic.HalfReadCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.RouteAsync("**/api/events", route => route.AbortAsync());
        await page.GotoAsync($"/cases/{id}");
        (await session.Clinic.Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose())).Expect(201);
        await page.FillAsync("#layer [name='pieces[0].arc.from']", "07:15");
        await page.FillAsync("#layer [name='pieces[0].arc.to']", "09:15");
        await page.ClickAsync("#layer button[type=submit]");
        await Expect(page.Locator("#layer [data-outcome]")).ToContainTextAsync("The case has changed since you opened it");
        await Expect(page.Locator("#out-of-date")).ToBeVisibleAsync();
        (await session.Clinic.Surgeon.GetAsync($"/api/cases/{id}/stages/2")).Expect(404);
    }

    [Fact]
    public async Task Cutting_into_blocks_takes_the_layer_as_it_is_typed_and_changes_nothing_else()
    {
        var id = await session.Clinic.HalfReadCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.FillAsync("#layer [name='pieces[0].arc.from']", "06:30");
        await page.FillAsync("#layer [name='pieces[0].arc.to']", "09:30");
        await page.FillAsync("#layer [name='pieces[0].widthMm']", "3.5");
        await page.ClickAsync("#layer [data-cut='3']");
        await Expect(page.Locator("#layer .block-row")).ToHaveCountAsync(3);
        foreach (var (name, value) in new[]
        {
            ("pieces[0].arc.from", "06:30"), ("pieces[0].arc.to", "09:30"), ("pieces[0].widthMm", "3.5"),
            ("blocks[0].label", "A"), ("blocks[0].arc.from", "06:30"), ("blocks[0].arc.to", "07:30"),
            ("blocks[1].label", "B"), ("blocks[1].arc.from", "07:30"), ("blocks[2].arc.to", "09:30"),
        })
        {
            await Expect(page.Locator($"#layer [name='{name}']")).ToHaveValueAsync(value);
        }

        await page.ClickAsync("#layer [data-cut='1']");
        await Expect(page.Locator("#layer .block-row")).ToHaveCountAsync(1);
        await page.FillAsync("#layer [name='pieces[0].arc.to']", "nine");
        await page.ClickAsync("#layer [data-cut='2']");
        await Expect(page.Locator("#layer [data-cut-said]")).ToBeVisibleAsync();
        await Expect(page.Locator("#layer .block-row")).ToHaveCountAsync(1);
    }

    private async Task<(string Id, IPage Page)> OpenAsync()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        return (id, page);
    }

    private Task<Reply> ReadBlockAsync(string id) => session.Clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear());
}
