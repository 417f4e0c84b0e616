using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>Marking a reading: every way to give a place, and what happens when the connection is lost.</summary>
[Collection<SharedBrowser>]
public sealed class MarkingTests(BrowserSession session)
{
    [Fact]
    public async Task A_positive_arc_is_saved_in_two_taps_from_the_open_page()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        (await session.Clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark");
        await page.DrawOnEdgeAsync(450, 540);
        await page.SentenceAsync("block B: tumour at the peripheral margin, 7:30 to 9 o'clock.");
        await page.ClickAsync("#save");
        await page.SavedAsync();
        (await session.Clinic.Surgeon.MarginsAsync(id)).Text("peripheral.outstanding[0].from").ShouldBe("07:30");
    }

    [Fact]
    public async Task A_typed_arc_and_a_mirrored_stretch_of_the_slide_say_the_same_place()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        var layer = Some.WholeLayer();
        layer["blocks"]![1]!["mirrored"] = true;
        (await session.Clinic.Surgeon.RecordAsync(id, layer)).Expect(201);
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark");
        await page.ClickAsync("#blocks button:has-text('B')");
        await page.FillAsync("#typed", "9:00-10:30");
        await page.ClickAsync("#add-typed");
        await page.SentenceAsync("9 to 10:30 o'clock.");
        await page.ClickAsync("#undo");
        await page.ClickAsync("summary:has-text('Along the slide')");
        await Expect(page.Locator("#mirrored")).ToBeCheckedAsync();
        await page.FillAsync("#along-a", "0.25");
        await page.FillAsync("#along-b", "0.5");
        await page.ClickAsync("#add-along");
        await page.SentenceAsync("Stage 1, block B: tumour at the peripheral margin, 9 to 10:30 o'clock.");
    }

    [Theory]
    [InlineData("#typed", "1:00-2:00")]
    [InlineData("#along-a", "0.25")]
    public async Task A_place_that_was_typed_and_not_added_is_not_left_out_in_silence(string field, string value)
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark");
        await page.EvaluateAsync("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
        await page.FillAsync(field, value);
        await page.ClickAsync("[data-outcome=clear]");
        await page.SentenceAsync("block A: clear");
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-problem")).ToContainTextAsync("did not add it");
        (await session.Clinic.Surgeon.CaseAsync(id)).At("stages[0].blocks[0].readings")!.AsArray().ShouldBeEmpty();
        await page.FillAsync(field, "");
        await page.ClickAsync("#save");
        await page.SavedAsync();
        await page.FillAsync(field, value);
        await page.ClickAsync("#blocks button:has-text('A')");
        (await page.InputValueAsync(field)).ShouldBeEmpty("A place typed for one block must not wait for the next.");
    }

    [Fact]
    public async Task A_layer_changed_just_before_it_is_recorded_is_checked_first_and_takes_a_second_press_where_it_leaves_tumour()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        (await session.Clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await session.Clinic.Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        await session.Clinic.ConfirmSiteAsync(id);
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.EvaluateAsync("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
        await page.FillAsync("[name='pieces[0].arc.from']", "07:15");
        await page.FillAsync("[name='pieces[0].arc.to']", "09:15");
        await page.FillAsync("[name='pieces[0].widthMm']", "2");
        await Expect(page.Locator("[data-said]")).ToContainTextAsync("Takes the whole target");

        // In one go, as by a hand that is faster than the check.
        await page.EvaluateAsync("""
            () => {
              const fields = ['pieces[0].arc.to', 'blocks[0].arc.to'].map((name) => document.querySelector(`[name='${name}']`));
              fields.forEach((field) => { field.value = '08:00'; field.dispatchEvent(new Event('input', { bubbles: true })); });
              fields[0].form.requestSubmit();
            }
            """);
        await Expect(page.Locator("[data-said] .alert.loud")).ToContainTextAsync("left behind");
        (await session.Clinic.Surgeon.CaseAsync(id)).At("stages")!.AsArray().Count.ShouldBe(1);
    }

    [Fact]
    public async Task A_save_without_a_connection_is_said_loudly_keeps_the_marks_and_is_sent_again_once()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark");
        await page.ClickAsync("[data-outcome=clear]");
        await page.SentenceAsync("block A: clear");
        await page.Context.SetOfflineAsync(true);
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-problem")).ToContainTextAsync("Not saved");
        await Expect(page.Locator("[data-outcome=clear]")).ToHaveAttributeAsync("aria-pressed", "true");
        await page.Context.SetOfflineAsync(false);
        await page.ClickAsync("#save");
        await page.SavedAsync();
        (await session.Clinic.Surgeon.CaseAsync(id)).At("stages[0].blocks[0].readings")!.AsArray().Count.ShouldBe(1);
    }

    [Fact]
    public async Task An_amendment_needs_its_reason_and_a_histotech_can_not_make_one()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        (await session.Clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var bench = await session.SignInAsync(TestClinic.HistotechEmail);
        await bench.GotoAsync($"/cases/{id}/stages/1/mark");
        await bench.ClickAsync("#blocks button:has-text('A')");
        await Expect(bench.Locator("#amend")).ToBeHiddenAsync();
        await Expect(bench.Locator("#block-hint")).ToContainTextAsync("only a surgeon can amend it");

        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}/stages/1/mark");
        await page.ClickAsync("#blocks button:has-text('A')");
        await page.ClickAsync("#amend");
        await page.ClickAsync("[data-outcome=unreadable]");
        await page.ClickAsync("#save");
        await Expect(page.Locator("#mark-problem")).ToContainTextAsync("Give the reason");
        await page.FillAsync("#reason", "edge folded");
        await page.ClickAsync("#save");
        await page.SavedAsync();
        (await session.Clinic.Surgeon.MarginsAsync(id)).Text("state").ShouldBe("awaitingReadings");
    }
}
