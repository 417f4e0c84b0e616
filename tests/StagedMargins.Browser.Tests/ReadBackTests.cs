using System.Text.Json.Nodes;
using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>What is saved is what was read back, and "Saved" is said of what is stored, however slow or wrong the connection is.</summary>
[Collection<SharedBrowser>]
public sealed class ReadBackTests(BrowserSession session)
{
    private const string Previews = "**/readings/rehearsal";
    private const string Saves = "**/readings";

    [Fact]
    public async Task Nothing_is_saved_before_the_sentence_of_the_marks_on_screen_is_there()
    {
        var (id, page) = await OpenAsync(TestClinic.SurgeonEmail, "B");
        await page.DrawOnEdgeAsync(450, 540);
        await page.SentenceAsync("block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await using var slow = await HeldRoute.OfAsync(page, Previews);
        await page.ClickAsync("[data-outcome=clear]");
        await slow.ArrivedAsync();
        await page.Locator("#save").ClickAsync(new() { Force = true });
        await Expect(page.Locator("#save")).ToBeDisabledAsync();
        await Expect(page.Locator("#sentence")).ToHaveTextAsync("Reading back what you marked …");
        await Expect(page.Locator("#mark-said")).ToBeHiddenAsync();
        await ExpectReadingsAsync(id, 0);

        slow.LetGo();
        await page.SentenceAsync("block B: clear");
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Saved. Stage 1, block B: clear");
        await ExpectReadingsAsync(id, 1);
    }

    [Fact]
    public async Task A_late_sentence_of_another_block_is_not_taken_for_that_of_this_one()
    {
        var (_, page) = await OpenAsync(TestClinic.SurgeonEmail, "A");
        await using var slowA = await HeldRoute.OfAsync(page, "**/blocks/A/readings/rehearsal");
        await using var slowB = await HeldRoute.OfAsync(page, "**/blocks/B/readings/rehearsal");
        await page.ClickAsync("[data-outcome=clear]");
        await slowA.ArrivedAsync();
        await page.ClickAsync("#blocks button:has-text('B')");
        await page.ClickAsync("[data-outcome=clear]");
        await slowB.ArrivedAsync();
        var late = page.WaitForResponseAsync("**/blocks/A/readings/rehearsal");
        slowA.LetGo();
        await (await late).FinishedAsync();
        await page.EvaluateAsync("new Promise(done => setTimeout(done, 100))");
        await Expect(page.Locator("#sentence")).Not.ToContainTextAsync("block A");
        await Expect(page.Locator("#save")).ToBeDisabledAsync();
        slowB.LetGo();
        await page.SentenceAsync("block B: clear");
        await Expect(page.Locator("#save")).ToBeEnabledAsync();
    }

    [Fact]
    public async Task What_is_marked_while_a_reading_is_on_its_way_is_not_called_saved()
    {
        var (id, page) = await OpenAsync(TestClinic.SurgeonEmail, "B");
        await page.DrawOnEdgeAsync(450, 540);
        await SaveAndMarkMoreAsync(page);
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Saved. Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("What you have marked on block B since then is not saved.");
        await Expect(page.Locator("#marks li")).ToHaveCountAsync(2);
        await Expect(page.Locator("body")).ToHaveAttributeAsync("data-unsaved", "true");
        (await session.Clinic.Surgeon.MarginsAsync(id)).Text("peripheral.outstanding[0].to").ShouldBe("09:00");

        await page.SentenceAsync("7:30 to 10 o'clock.");
        await page.FillAsync("#reason", "marked one sector more");
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Saved. Stage 1, block B: tumour at the peripheral margin, 7:30 to 10 o'clock.");
        (await session.Clinic.Surgeon.MarginsAsync(id)).Text("peripheral.outstanding[0].to").ShouldBe("10:00");
        await ExpectReadingsAsync(id, 2);
    }

    [Fact]
    public async Task A_histotech_who_marks_more_meanwhile_can_put_right_their_own_unsigned_reading_or_drop_it()
    {
        var (id, page) = await OpenAsync(TestClinic.HistotechEmail, "B");
        await page.DrawOnEdgeAsync(450, 540);
        await SaveAndMarkMoreAsync(page);
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("What you have marked on block B since then is not saved.");
        await page.SentenceAsync("Stage 1, block B: tumour at the peripheral margin, 7:30 to 10 o'clock.");
        await Expect(page.Locator("#reason")).ToBeVisibleAsync();
        await page.ClickAsync("#undo");
        await page.SentenceAsync("Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await Expect(page.Locator("body")).ToHaveAttributeAsync("data-unsaved", "false");
        await ExpectReadingsAsync(id, 1);
    }

    [Fact]
    public async Task A_reading_that_arrives_after_another_block_was_chosen_leaves_that_block_alone()
    {
        var (id, page) = await OpenAsync(TestClinic.SurgeonEmail, "B");
        await page.ClickAsync("[data-outcome=clear]");
        await page.SentenceAsync("block B: clear");
        await using var slow = await HeldRoute.OfAsync(page, Saves);
        await page.ClickAsync("#save");
        await slow.ArrivedAsync();
        await page.ClickAsync("#blocks button:has-text('A')");
        await page.DrawOnEdgeAsync(90, 150);
        await page.SentenceAsync("block A: tumour at the peripheral margin, 1:30 to 2:30 o'clock.");
        slow.LetGo();
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Saved. Stage 1, block B: clear");
        await Expect(page.Locator("#marks li")).ToHaveCountAsync(1);
        await page.SentenceAsync("block A: tumour at the peripheral margin, 1:30 to 2:30 o'clock.");
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-said")).ToContainTextAsync("Saved. Stage 1, block A: tumour at the peripheral margin, 1:30 to 2:30 o'clock.");
        await ExpectReadingsAsync(id, 1);
    }

    [Fact]
    public async Task Saved_is_the_sentence_of_what_is_stored_and_not_of_what_the_page_believes()
    {
        var (id, page) = await OpenAsync(TestClinic.SurgeonEmail, "B");
        await page.DrawOnEdgeAsync(450, 540);
        await page.SentenceAsync("block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await page.RouteAsync(Saves, route =>
        {
            var body = JsonNode.Parse(route.Request.PostData!)!;
            body["findings"]![0]!["arc"]!["to"] = "08:00";
            return route.ContinueAsync(new() { PostData = System.Text.Encoding.UTF8.GetBytes(body.ToJsonString()) });
        });
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-said")).ToHaveTextAsync(
            "Saved, but differently from what was read back. Stored: Stage 1, block B: tumour at the peripheral margin, 7:30 to 8 o'clock. Next: block A.");
        await Expect(page.Locator("#mark-said")).ToHaveClassAsync("alert loud");
        await page.ClickAsync("#blocks button:has-text('B')");
        await page.SentenceAsync("7:30 to 8 o'clock.");
        (await session.Clinic.Surgeon.MarginsAsync(id)).Text("peripheral.outstanding[0].to").ShouldBe("08:00");
    }

    [Fact]
    public async Task Marks_that_the_service_can_not_read_back_are_kept_and_not_saved()
    {
        var (id, page) = await OpenAsync(TestClinic.SurgeonEmail, "B");
        await page.RouteAsync(Previews, route => route.AbortAsync());
        await page.DrawOnEdgeAsync(450, 540);
        await page.SentenceAsync("The service can’t be reached. Your marks are kept");
        await Expect(page.Locator("#save")).ToBeDisabledAsync();
        await page.UnrouteAsync(Previews);
        await page.SentenceAsync("block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await page.RouteAsync(Saves, route => route.FulfillAsync(new() { Status = 503, Body = """{ "detail": "The database does not answer." }""" }));
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-problem")).ToHaveTextAsync("Not saved: The database does not answer.");
        await Expect(page.Locator("#marks li")).ToHaveCountAsync(1);
        await ExpectReadingsAsync(id, 0);
        await page.UnrouteAsync(Saves);
        await page.ClickAsync("#save");
        await page.SavedAsync();
        await ExpectReadingsAsync(id, 1);
    }

    private async Task<(string Id, IPage Page)> OpenAsync(string email, string block)
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(email);
        await page.GotoAsync($"/cases/{id}/stages/1/mark?block={block}");
        return (id, page);
    }

    private static async Task SaveAndMarkMoreAsync(IPage page)
    {
        await page.SentenceAsync("block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await using var slow = await HeldRoute.OfAsync(page, Saves);
        await page.ClickAsync("#save");
        await slow.ArrivedAsync();
        await page.FillAsync("#typed", "9:00-10:00");
        await page.ClickAsync("#add-typed");
        slow.LetGo();
    }

    // Of block B; none where it is unread.
    private async Task ExpectReadingsAsync(string id, int count) =>
        (await session.Clinic.Surgeon.CaseAsync(id)).At("stages[0].blocks[1].readings")!.AsArray().Count.ShouldBe(count);
}
