using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Browser.Tests;

/// <summary>
/// Makes the pictures of the guides from the running program, where STAGEDMARGINS_GUIDE_PICTURES names the folder to put them in
/// (see tests/screenshots.sh).
/// </summary>
[Collection<SharedBrowser>]
public sealed class GuidePictures(BrowserSession session)
{
    private static string? Folder => Environment.GetEnvironmentVariable("STAGEDMARGINS_GUIDE_PICTURES");

    [Fact]
    public async Task The_pictures_of_the_guides_are_made()
    {
        Assert.SkipWhen(Folder is null, "STAGEDMARGINS_GUIDE_PICTURES names no folder.");
        var surgeon = session.Clinic.Surgeon;
        var id = await surgeon.OpenWithLayerAsync();
        await MapAsync(id, "unread");
        await ShowAsync(TestClinic.HistotechEmail, $"/cases/{id}/stages/1/mark", "screen-mark");
        (await surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        await MapAsync(id, "stage-1");
        await ShowAsync(TestClinic.SurgeonEmail, "/", "screen-today");
        await ShowAsync(TestClinic.SurgeonEmail, $"/cases/{id}", "screen-map");
        await ShowAsync(TestClinic.SurgeonEmail, $"/cases/{id}?view=slide", "screen-slide");
        (await surgeon.RecordAsync(id, Some.Rim("07:45", "09:15"))).Expect(201);
        (await surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        await MapAsync(id, "left-behind");
        (await surgeon.RecordAsync(id, Some.Rim("07:15", "08:00"))).Expect(201);
        (await surgeon.ReadAsync(id, 3, "A", Some.Clear())).Expect(201);
        await MapAsync(id, "cleared");
        await ShowAsync(TestClinic.AdministratorEmail, "/settings", "screen-settings");
    }

    private async Task MapAsync(string id, string name)
    {
        using var answer = await session.Clinic.Surgeon.SendForBytesAsync(new HttpRequestMessage(HttpMethod.Get, $"/api/cases/{id}/map.png?width=900"));
        answer.EnsureSuccessStatusCode();
        await File.WriteAllBytesAsync(Path.Combine(Folder!, $"{name}.png"), await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken), TestContext.Current.CancellationToken);
    }

    private async Task ShowAsync(string email, string path, string name)
    {
        var page = await session.SignInAsync(email);
        await page.GotoAsync(path, new() { WaitUntil = WaitUntilState.Load });
        await page.ScreenshotAsync(new() { Path = Path.Combine(Folder!, $"{name}.png") });
        await page.Context.CloseAsync();
    }
}
