using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>Taking a backup by hand on Settings.</summary>
[Collection<SharedBrowser>]
public sealed class BackupScreenTests(BrowserSession session) : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task An_administrator_takes_a_backup_and_sees_its_file_named_while_what_is_typed_stays()
    {
        await using var host = ServiceHost.Start(session.Clinic.Database, null, ("Backup:Folder", folder.Path));
        var page = await session.SignInAsync(TestClinic.AdministratorEmail, at: host.Address);
        await page.GotoAsync("/");
        await page.ClickAsync("nav >> text=Settings");
        var card = page.Locator("[data-backup]");
        await Expect(card).ToContainTextAsync("There is no backup in the folder yet.");
        await page.FillAsync("form[data-api='/api/clinic'] [name=name]", "A name not yet saved");
        await card.Locator("button").ClickAsync();
        await Expect(card.Locator("[role=status]")).ToContainTextAsync("Taken and read back: record-");
        var file = Path.GetFileName(Directory.GetFiles(folder.Path).ShouldHaveSingleItem());
        await Expect(card.Locator("[data-files]")).ToContainTextAsync(file);
        await Expect(card.Locator("[data-files]")).ToContainTextAsync("not encrypted");
        await Expect(card.Locator("button")).ToBeEnabledAsync();
        (await page.InputValueAsync("form[data-api='/api/clinic'] [name=name]")).ShouldBe("A name not yet saved");
        await page.ReloadAsync();
        await Expect(card).ToContainTextAsync($": {file}");
    }

    [Fact]
    public async Task How_far_a_long_backup_is_is_said_while_it_runs_and_on_a_page_that_is_opened_meanwhile()
    {
        await using var clinic = new SqliteClinic(session.Clinic.Server);
        await clinic.InitializeAsync();
        await clinic.Database.GrowAsync();
        await using var host = ServiceHost.Start(clinic.Database, null, ("Backup:Folder", folder.Path));
        var page = await session.SignInAsync(TestClinic.AdministratorEmail, at: host.Address);
        var beside = await session.SignInAsync(TestClinic.AdministratorEmail, at: host.Address);
        await page.GotoAsync("/settings");
        var said = page.Locator("[data-backup] [role=status]");
        await page.ClickAsync("[data-backup-now]");
        await Expect(said).ToContainTextAsync("…");
        await Expect(page.Locator("[data-backup-now]")).ToBeDisabledAsync();
        await beside.GotoAsync("/settings");
        await Expect(beside.Locator("[data-backup] [role=status]")).ToContainTextAsync("part");
        await Expect(said).ToContainTextAsync("so far …");
        await Expect(said).ToContainTextAsync("Taken and read back", new() { Timeout = 60_000 });
        await Expect(beside.Locator("[data-backup] [role=status]")).ToContainTextAsync("Taken and read back", new() { Timeout = 60_000 });
        await Expect(beside.Locator("[data-files]")).ToContainTextAsync("record-");
        await Expect(beside.Locator("[data-backup-now]")).ToBeEnabledAsync();
    }

    [Fact]
    public async Task A_backup_that_comes_to_nothing_is_said_loudly_in_words()
    {
        var gone = Directory.CreateDirectory(Path.Combine(folder.Path, "gone"));
        await using var host = ServiceHost.Start(session.Clinic.Database, null, ("Backup:Folder", gone.FullName));
        var page = await session.SignInAsync(TestClinic.AdministratorEmail, at: host.Address);
        await page.GotoAsync("/settings");
        gone.Delete(recursive: true);
        await page.ClickAsync("[data-backup-now]");
        await Expect(page.Locator("[data-backup] [role=status].loud")).ToContainTextAsync("can't be written");
    }

    [Fact]
    public async Task Without_a_folder_the_page_says_what_to_set_and_offers_no_button()
    {
        var page = await session.SignInAsync(TestClinic.AdministratorEmail);
        await page.GotoAsync("/settings");
        await Expect(page.Locator("[data-backup]")).ToContainTextAsync("The operator sets Backup:Folder");
        await Expect(page.Locator("[data-backup] button")).ToHaveCountAsync(0);
    }

    [Theory]
    [InlineData(ColorScheme.Light, 1024)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task Settings_with_a_backup_suit_everyone(ColorScheme scheme, int width)
    {
        await using var host = ServiceHost.Start(session.Clinic.Database, null, ("Backup:Folder", folder.Path));
        var page = await session.SignInAsync(TestClinic.AdministratorEmail, width, 844, scheme, host.Address);
        await page.GotoAsync("/settings");
        await page.ClickAsync("[data-backup-now]");
        await Expect(page.Locator("[data-files] strong")).ToHaveCountAsync(1);
        await page.ClickAsync("[data-files] summary");
        await page.ExpectForEveryoneAsync();
        await page.ShowAsync($"settings-backup-{scheme}-{width}");
    }
}
