using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Core.CountingUnits;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>Counting units: the clinic's codes on Settings, a month's units for manager and surgeon, a case's on its record.</summary>
[Collection<SharedBrowser>]
public sealed class CountingUnitsScreenTests(BrowserSession session) : IAsyncLifetime
{
    private readonly TempFolder folder = new();
    private ServiceHost host = null!;
    private string file = "";

    public async ValueTask InitializeAsync()
    {
        host = ServiceHost.Start(session.Clinic.Database, null, ("CountingUnits:Folder", folder.Path));
        await using var db = session.Clinic.Database.NewContext();
        var clinicId = await db.Users.Where(person => person.Email == TestClinic.ManagerEmail).Select(person => person.ClinicId).SingleAsync(TestContext.Current.CancellationToken);
        file = Path.Combine(folder.Path, $"{clinicId:D}.csv");
    }

    public async ValueTask DisposeAsync()
    {
        await host.DisposeAsync();
        folder.Dispose();
    }

    [Fact]
    public async Task A_manager_reads_a_month_with_its_undecided_case_first_and_no_patient_reference()
    {
        await WriteAsync(CodeTable.Example);
        var decided = await EndedAsync("2017-04-11T12:00:00-03:00");
        var open = await EndedAsync("2017-04-12T12:00:00-03:00", "C44.7");
        var page = await session.SignInAsync(TestClinic.ManagerEmail, at: host.Address);
        await page.GotoAsync("/audit?from=2017-04-01&to=2017-04-30");
        await page.ClickAsync("main >> text=Counting units");
        await page.ArriveAsync("**/audit/counting-units?month=2017-04");
        await Expect(page.Locator("main")).ToContainTextAsync("1 case is without a region group");
        var rows = page.Locator("[aria-label='Units by case'] tbody tr");
        await Expect(rows.Nth(0)).ToContainTextAsync(open.Number);
        await Expect(rows.Nth(0)).ToContainTextAsync("to be decided");
        await Expect(rows.Nth(1)).ToContainTextAsync(decided.Number);
        await Expect(rows.Nth(1)).ToContainTextAsync("X-1, 100.00");
        await Expect(page.Locator("[aria-label=Totals] tbody tr").Last.Locator("td")).ToHaveTextAsync(["2", "2", "0", "0"]);
        var main = await page.Locator("main").InnerTextAsync();
        main.ShouldNotContain(decided.Patient);
        main.ShouldNotContain(open.Patient);
        var csv = await page.APIRequest.GetAsync((await page.GetAttributeAsync("main a[download]", "href"))!);
        (await csv.TextAsync()).ShouldContain($"{decided.Number},headNeckHandsFeetGenitalia,firstStage,1,X-1,100.00");
    }

    [Fact]
    public async Task A_surgeon_sees_their_own_cases_alone()
    {
        var own = await EndedAsync("2017-06-11T12:00:00-03:00");
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, at: host.Address);
        await page.GotoAsync("/audit/counting-units?month=2017-06");
        await Expect(page.Locator("main")).ToContainTextAsync(own.Number);
        await Expect(page.Locator("main")).ToContainTextAsync("The clinic has no code table");
        var other = await session.SignInAsync(TestClinic.OtherSurgeonEmail, at: host.Address);
        await other.GotoAsync("/audit/counting-units?month=2017-06");
        await Expect(other.Locator("main")).ToContainTextAsync("No case of yours ended in 2017-06");
        await other.GotoAsync("/audit/counting-units?month=June");
        await Expect(other.Locator("[role=alert]")).ToContainTextAsync("A month, for example");
    }

    [Fact]
    public async Task The_record_shows_the_units_of_a_case_to_its_surgeon_and_on_no_paper()
    {
        await WriteAsync(CodeTable.Example);
        var own = await EndedAsync("2017-07-11T12:00:00-03:00");
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, at: host.Address);
        await page.GotoAsync($"/cases/{own.Id}/record");
        await Expect(page.Locator("#units tbody tr").First.Locator("td")).ToHaveTextAsync(["1", "X-1, 100.00"]);
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Expect(page.Locator("#units")).ToBeHiddenAsync();
        foreach (var email in new[] { TestClinic.OtherSurgeonEmail, TestClinic.HistotechEmail })
        {
            var other = await session.SignInAsync(email, at: host.Address);
            await other.GotoAsync($"/cases/{own.Id}/record");
            await Expect(other.Locator("#anaesthetic, h1").First).ToBeVisibleAsync();
            await Expect(other.Locator("#units")).ToHaveCountAsync(0);
        }
    }

    [Fact]
    public async Task Settings_say_how_to_provide_a_table_show_the_one_read_and_name_a_line_at_fault()
    {
        var page = await session.SignInAsync(TestClinic.AdministratorEmail, at: host.Address);
        await page.GotoAsync("/settings");
        var card = page.Locator("section:has(#codes)");
        await Expect(card).ToContainTextAsync("The clinic has no code table yet.");
        await page.ClickAsync("text=How to provide a code table");
        await Expect(card.Locator("details")).ToContainTextAsync(Path.GetFileName(file));
        var example = await card.Locator("pre").InnerTextAsync();
        await WriteAsync(example);
        await page.ReloadAsync();
        await Expect(card.Locator("tbody tr")).ToHaveCountAsync(6);
        await Expect(card.Locator("tbody tr").First).ToContainTextAsync("X-1");
        await WriteAsync($"{example}\nneck,firstStage,X-5,");
        await page.ReloadAsync();
        await Expect(card.Locator("[role=alert]")).ToContainTextAsync("Line 6 must be one of");
    }

    [Theory]
    [InlineData(ColorScheme.Light, 1024)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task The_pages_with_codes_suit_everyone(ColorScheme scheme, int width)
    {
        await WriteAsync(CodeTable.Example);
        var decided = await EndedAsync("2017-09-11T12:00:00-03:00");
        await EndedAsync("2017-09-12T12:00:00-03:00", "C44.7");
        foreach (var (email, path, name) in new[]
        {
            (TestClinic.ManagerEmail, "/audit/counting-units?month=2017-09", "units"),
            (TestClinic.SurgeonEmail, $"/cases/{decided.Id}/record", "record"),
            (TestClinic.AdministratorEmail, "/settings", "codes"),
            (TestClinic.ManagerEmail, "/audit?from=2017-09-01&to=2017-09-30", "audit"),
        })
        {
            var page = await session.SignInAsync(email, width, 844, scheme, host.Address);
            await page.GotoAsync(path);
            await page.ExpectForEveryoneAsync();
            await page.ShowAsync($"{name}-{scheme}-{width}");
        }
    }

    private Task WriteAsync(string table) => File.WriteAllTextAsync(file, table, TestContext.Current.CancellationToken);

    private async Task<(string Id, string Number, string Patient)> EndedAsync(string endedAt, string site = "C44.3")
    {
        var surgeon = session.Clinic.Surgeon;
        var id = await surgeon.OpenCaseAsync(Some.Case().With("site.code", site));
        (await surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await surgeon.EndAsync(id, Some.EndCleared().With("endedAt", endedAt))).Expect(200);
        var reply = await surgeon.CaseAsync(id);
        return (id, reply.Text("caseNumber"), reply.Text("patientRef"));
    }
}
