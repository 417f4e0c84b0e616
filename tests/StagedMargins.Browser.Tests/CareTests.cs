using System.Globalization;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>What is done around the loop, by hand on the map, and as it stands on the record.</summary>
[Collection<SharedBrowser>]
public sealed class CareTests(BrowserSession session)
{
    [Fact]
    public async Task A_dose_above_the_maximum_is_entered_and_said_loudly_on_map_and_record()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync(Some.Case().With("weightKg", 50));
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Enter a dose");
        await page.FillAsync("#anaesthetic [name=volumeMl]", "36");
        await page.SelectOptionAsync("#anaesthetic [name=adrenaline]", "true");
        await page.ClickAsync("text=Enter the dose, given now");
        await Expect(page.Locator("#anaesthetic .alert.loud[role=alert]:not([data-outcome])")).ToContainTextAsync("Label maximum reached: 360 mg (7.2 mg/kg)");
        await page.GotoAsync($"/cases/{id}/record");
        await Expect(page.Locator("#anaesthetic")).ToContainTextAsync("102.9 % of the label maximum of 350 mg");
    }

    [Fact]
    public async Task Repair_and_visit_are_entered_on_the_map_and_stand_on_the_record()
    {
        var id = await session.Clinic.Surgeon.OpenClearAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Enter a repair");
        await page.SelectOptionAsync("#after [name=kind]", "graft");
        await page.FillAsync("#after [name=repairedOn]", "2026-03-03");
        await page.ClickAsync("#after button:has-text('Enter the repair')");
        await Expect(page.Locator("#after")).ToContainTextAsync("Repair: graft, 2026-03-03");
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Enter a visit");
        await page.FillAsync("#after [name=visitedOn]", "2026-06-03");
        await page.SelectOptionAsync("#after [name=recurrence]", "false");
        await page.ClickAsync("#after button:has-text('Enter the visit')");
        await Expect(page.Locator("#after table")).ToContainTextAsync("2026-06-03");
        await page.GotoAsync($"/cases/{id}/record");
        await Expect(page.Locator("#after table")).ToContainTextAsync("2026-06-03");
        await Expect(page.Locator("#turnaround")).ToContainTextAsync("42 min");
    }

    // Wherever the device is, at least one of these has another day than the clinic has.
    [Theory]
    [InlineData("Pacific/Kiritimati")]
    [InlineData("Pacific/Pago_Pago")]
    public async Task The_day_offered_is_the_clinic_s_whatever_zone_the_device_is_in(string zone)
    {
        var id = await session.Clinic.Surgeon.OpenClearAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, zone: zone);
        var before = ClinicDay();
        await page.GotoAsync($"/cases/{id}");
        string[] days = [before, ClinicDay()];
        days.ShouldContain(await page.InputValueAsync("#after [name=repairedOn]"));
        days.ShouldContain(await page.InputValueAsync("#after [name=visitedOn]"));
        await page.ClickAsync("text=Enter a repair");
        await page.ClickAsync("#after button:has-text('Enter the repair')");
        await Expect(page.Locator("#after")).ToContainTextAsync("Repair: ");

        static string ClinicDay() => TimeZoneInfo.ConvertTime(TestClock.Now, TimeZoneInfo.FindSystemTimeZoneById(TestClinic.TimeZone)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task A_second_reader_finds_the_task_and_the_case_only_afterwards()
    {
        var id = await session.Clinic.Surgeon.OpenClearAsync();
        await session.Clinic.AskSecondReadAsync(id);
        var page = await session.SignInAsync(TestClinic.OtherSurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await Expect(page.Locator("main")).ToContainTextAsync("you may still owe it a second read");
        await page.GotoAsync("/second-reads");
        var task = page.Locator($"form[data-api='/api/cases/{id}/second-reads/1/answer']");
        await task.Locator("[name=outcome]").SelectOptionAsync("clear");
        await task.Locator("button").ClickAsync();
        await Expect(task).ToHaveCountAsync(0);
        await page.GotoAsync($"/cases/{id}");
        await Expect(page.Locator("#after")).ToContainTextAsync("the two readers agree");
    }
}
