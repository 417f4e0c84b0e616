using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>A surgeon signs what is shown: the sentence of the reading stands beside its button.</summary>
[Collection<SharedBrowser>]
public sealed class CountersignTests(BrowserSession session)
{
    private const string Sentence = "Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock.";

    [Theory]
    [InlineData(1024, 768)]
    [InlineData(390, 844)]
    public async Task What_is_signed_stands_beside_its_button_with_who_read_it_and_who_wrote_it_down(int width, int height)
    {
        var id = await TwoUnsignedAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, width, height);
        await page.GotoAsync($"/cases/{id}");
        var buttons = page.GetByRole(AriaRole.Button, new() { Name = "Countersign" });
        await Expect(buttons).ToHaveCountAsync(2);
        await Expect(buttons.First).ToHaveAccessibleDescriptionAsync(new System.Text.RegularExpressions.Regex("^Stage 1, block A: clear"));
        var button = buttons.Last;
        var said = page.Locator($"#{await button.GetAttributeAsync("aria-describedby")}");
        await Expect(said).ToContainTextAsync(Sentence);
        await Expect(said).ToContainTextAsync($"To be countersigned by {TestClinic.SurgeonEmail}, who read it on 2026-03-03 09:52. Written down by {TestClinic.HistotechEmail} on 20");
        await Expect(said).ToContainTextAsync("Note: called out twice");
        var (row, words) = ((await button.BoundingBoxAsync())!, (await said.Locator("strong").BoundingBoxAsync())!);
        row.X.ShouldBeGreaterThanOrEqualTo(words.X + words.Width);
        Math.Max(row.Y, words.Y).ShouldBeLessThan(Math.Min(row.Y + row.Height, words.Y + words.Height));
        await page.ExpectForEveryoneAsync();

        await button.ClickAsync();
        await Expect(buttons).ToHaveCountAsync(1);
        var blocks = await session.Clinic.Surgeon.CaseAsync(id);
        blocks.At("stages[0].blocks[0].readings[0].countersignedBy").ShouldBeNull();
        blocks.Text("stages[0].blocks[1].readings[0].countersignedBy").ShouldBe(TestClinic.SurgeonEmail);
    }

    [Fact]
    public async Task A_reading_that_was_amended_since_it_was_shown_is_not_signed_and_the_one_that_counts_can_be()
    {
        var id = await TwoUnsignedAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.RouteAsync("**/api/events", route => route.AbortAsync());
        await page.GotoAsync($"/cases/{id}");
        var row = page.Locator(".unsigned").Filter(new() { HasText = "block B" });
        await Expect(row).ToContainTextAsync(Sentence);
        await session.Clinic.OtherSurgeon.AmendAsync(id, 1, "B", Some.Clear());
        await row.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(row.GetByRole(AriaRole.Alert)).ToContainTextAsync("Not saved: This reading was amended and no longer counts");
        (await session.Clinic.Surgeon.CaseAsync(id)).At("stages[0].blocks[1].readings[1].countersignedBy").ShouldBeNull();

        await page.EvaluateAsync("Blazor.navigateTo(location.pathname, { replaceHistoryEntry: true })");
        await Expect(row).ToContainTextAsync("Stage 1, block B: clear");
        await Expect(row).ToContainTextAsync("Amends an earlier reading: second look");
        await row.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(row).ToHaveCountAsync(0);
        (await session.Clinic.Surgeon.CaseAsync(id)).Text("stages[0].blocks[1].readings[1].countersignedBy").ShouldBe(TestClinic.SurgeonEmail);
    }

    [Fact]
    public async Task After_a_signature_whose_answer_was_lost_the_next_reading_can_be_signed()
    {
        var id = await TwoUnsignedAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.RouteAsync(
            "**/countersign",
            async route =>
            {
                await route.FetchAsync();
                await route.AbortAsync();
            },
            new() { Times = 1 });
        var buttons = page.GetByRole(AriaRole.Button, new() { Name = "Countersign" });
        await buttons.First.ClickAsync();
        await Expect(buttons).ToHaveCountAsync(1);
        await buttons.ClickAsync();
        await Expect(buttons).ToHaveCountAsync(0);
        (await session.Clinic.Surgeon.CaseAsync(id)).At("toBeCountersigned")!.AsArray().ShouldBeEmpty();
    }

    [Fact]
    public async Task Whoever_can_not_sign_sees_what_waits_and_no_button()
    {
        var id = await TwoUnsignedAsync();
        var page = await session.SignInAsync(TestClinic.OtherSurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await Expect(page.Locator(".unsigned").Last).ToContainTextAsync($"To be countersigned by {TestClinic.SurgeonEmail}, who");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Countersign" })).ToHaveCountAsync(0);
    }

    private async Task<string> TwoUnsignedAsync()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        (await session.Clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await session.Clinic.Histotech.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00").With("note", "called out twice"))).Expect(201);
        return id;
    }
}
