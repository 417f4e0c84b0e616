using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>A case goes to another clinic by hand: saved from its record, imported on the list of cases.</summary>
[Collection<SharedBrowser>]
public sealed class ImportTests(BrowserSession session)
{
    [Fact]
    public async Task A_case_is_saved_from_its_record_and_imported_in_another_clinic()
    {
        var id = await session.Clinic.Surgeon.PlayWorkedExampleAsync(session.Clinic.Histotech);
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}/record");
        var download = await page.RunAndWaitForDownloadAsync(() => page.ClickAsync("text=FHIR bundle (JSON)"));
        var administrator = await OtherClinic.AdministratorAsync(session.Clinic);
        var email = $"s{Guid.NewGuid():N}@other.invalid";
        await TestClinic.AddAsync(administrator, session.Clinic.Stranger, email, "surgeon");
        var there = await session.SignInAsync(email);
        await there.GotoAsync("/cases");
        await there.ClickAsync("text=Import a case");
        await there.SetInputFilesAsync("#import [name=file]", new FilePayload { Name = "notes.json", MimeType = "application/json", Buffer = "{}"u8.ToArray() });
        await there.ClickAsync("#import button");
        await Expect(there.Locator("#import [data-outcome]")).ToContainTextAsync("Send a FHIR bundle exported by this program");
        await there.SetInputFilesAsync("#import [name=file]", await download.PathAsync());
        await there.ClickAsync("#import button");
        await there.ArriveAsync($"**/cases/{id}");
        await Expect(there.Locator("main")).ToContainTextAsync("Cleared");
        await Expect(there.Locator(".imported")).ToContainTextAsync($"by {email}: entries 1 to 11, with their authors and signatures, are as given in the file");
        await Expect(there.Locator(".imported")).ToBeInViewportAsync();
        await there.GotoAsync($"/cases/{id}/record");
        await Expect(there.Locator(".imported")).ToHaveCountAsync(1);
        await there.GotoAsync("/cases");
        await Expect(there.Locator("table.cases")).ToContainTextAsync("cleared");
    }

    [Fact]
    public async Task The_form_to_import_is_the_surgeons_alone()
    {
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync("/cases");
        await Expect(page.Locator("h1")).ToContainTextAsync("Cases");
        await Expect(page.Locator("#import")).ToHaveCountAsync(0);
    }
}
