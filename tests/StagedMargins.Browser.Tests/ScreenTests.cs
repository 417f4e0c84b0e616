using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>Every page: who sees it, how it fits, whether everyone can use it, and whether it stays current.</summary>
[Collection<SharedBrowser>]
public sealed class ScreenTests(BrowserSession session)
{
    [Fact]
    public async Task Who_is_not_signed_in_is_led_to_the_sign_in_page_and_back()
    {
        var id = await session.Clinic.HalfReadCaseAsync();
        var page = await session.SignInAsync(null);
        await page.GotoAsync($"/cases/{id}");
        new Uri(page.Url).AbsolutePath.ShouldBe("/sign-in");
        await page.FillAsync("[name=email]", TestClinic.SurgeonEmail);
        await page.FillAsync("[name=password]", TestClinic.Password);
        await page.ClickAsync("main button[type=submit]");
        await page.ArriveAsync($"**/cases/{id}");
    }

    [Fact]
    public async Task Two_desks_see_each_other_s_change_without_a_hand()
    {
        var id = await session.Clinic.Surgeon.OpenWithLayerAsync();
        var map = await session.SignInAsync(TestClinic.SurgeonEmail);
        await map.GotoAsync($"/cases/{id}");
        await Expect(map.Locator(".side .sentence >> nth=0")).ToContainTextAsync("A, B to be read");
        var bench = await session.SignInAsync(TestClinic.HistotechEmail);
        await bench.GotoAsync($"/cases/{id}/stages/1/mark");
        await bench.ClickAsync("[data-outcome=clear]");
        await bench.SentenceAsync("block A: clear");
        await bench.ClickAsync("#save");
        await bench.SavedAsync();
        await Expect(map.Locator(".side .sentence >> nth=0")).ToContainTextAsync("B to be read", new() { Timeout = 5_000 });
        await Expect(map.Locator(".side .sentence >> nth=0")).Not.ToContainTextAsync("A, B");
        await map.ClickAsync("button:has-text('Countersign')");
        await Expect(map.Locator("text=to be countersigned by")).ToHaveCountAsync(0);
    }

    [Theory]
    [InlineData(TestClinic.HistotechEmail, "/settings", 403)]
    [InlineData(TestClinic.SurgeonEmail, "/settings", 403)]
    [InlineData(TestClinic.ManagerEmail, "/cases", 403)]
    [InlineData(TestClinic.ManagerEmail, "/cases/new", 403)]
    [InlineData(TestClinic.AdministratorEmail, "/cases", 403)]
    [InlineData(TestClinic.AdministratorEmail, "/settings", 200)]
    [InlineData(TestClinic.ManagerEmail, "/", 200)]
    [InlineData(TestClinic.ManagerEmail, "/audit", 200)]
    [InlineData(TestClinic.SurgeonEmail, "/audit", 200)]
    [InlineData(TestClinic.HistotechEmail, "/audit", 403)]
    [InlineData(TestClinic.AdministratorEmail, "/audit/cases", 403)]
    [InlineData(TestClinic.ManagerEmail, "/audit/counting-units", 200)]
    [InlineData(TestClinic.SurgeonEmail, "/audit/counting-units", 200)]
    [InlineData(TestClinic.HistotechEmail, "/audit/counting-units", 403)]
    [InlineData(TestClinic.AdministratorEmail, "/audit/counting-units", 403)]
    public async Task A_page_that_is_not_for_a_role_is_refused_by_the_server(string email, string path, int status)
    {
        var page = await session.SignInAsync(email);
        var answer = await page.GotoAsync(path);
        answer!.Status.ShouldBe(status);
    }

    [Fact]
    public async Task A_histotech_is_told_who_ends_a_case()
    {
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync($"/cases/{await session.Clinic.HalfReadCaseAsync()}");
        (await page.Locator("form[data-api$='/end']").CountAsync()).ShouldBe(0);
        await Expect(page.Locator("main")).ToContainTextAsync("Only a surgeon can end the case.");
    }

    [Fact]
    public async Task The_administrator_changes_roles_and_deactivates_an_account_on_the_settings_page()
    {
        const string email = "temporary.help@clinic.invalid";
        var helper = await session.Clinic.AddAsync(email, "histotech");
        var page = await session.SignInAsync(TestClinic.AdministratorEmail);
        await page.GotoAsync("/settings");
        var row = page.Locator("tr", new() { HasText = email });
        await row.Locator("summary").ClickAsync();
        await row.GetByLabel("manager").CheckAsync();
        await row.GetByText("Save roles").ClickAsync();
        await Expect(row).ToContainTextAsync("histotech, manager");
        (await helper.GetAsync("/api/cases")).Expect(401);
        await row.Locator("summary").ClickAsync();
        await row.GetByText("Deactivate the account").ClickAsync();
        await Expect(row).ToContainTextAsync("deactivated");
        await row.Locator("summary").ClickAsync();
        await row.GetByText("New password code").ClickAsync();
        await Expect(row.Locator("[data-result] strong")).Not.ToBeEmptyAsync();
    }

    [Fact]
    public async Task A_refusal_of_the_service_stands_beside_its_field_and_loses_nothing()
    {
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync("/cases/new");
        await page.FillAsync("[name=patientRef]", "K-70003");
        await page.FillAsync("[name=twelveOClock]", "toward the vertex");
        await page.FillAsync("[name='tumour.morphology']", "8090/3");
        await page.FillAsync("[name=caseNumber]", "not a number!");
        await page.ClickAsync("button:has-text('Open the case')");
        await Expect(page.Locator("[name=caseNumber] + .field-error")).ToBeVisibleAsync();
        (await page.InputValueAsync("[name=patientRef]")).ShouldBe("K-70003");
    }

    // Each page is opened once for all of it: what differs is style alone, and most of the time went into opening pages.
    [Fact]
    public async Task Every_page_suits_everyone_in_light_and_dark_and_scrolls_sideways_at_no_width()
    {
        foreach (var (email, path) in await PagesAsync())
        {
            var page = await session.SignInAsync(email);
            await page.GotoAsync(path);
            await page.ExpectForEveryoneAsync();
            await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark, ReducedMotion = ReducedMotion.Reduce });
            await page.ExpectContrastAsync();
            foreach (var (width, height) in new[] { (1440, 900), (390, 844) })
            {
                await page.SetViewportSizeAsync(width, height);
                await page.ExpectNoScrollSidewaysAsync();
            }

            await page.Context.CloseAsync();
        }
    }

    private async Task<(string? Email, string Path)[]> PagesAsync()
    {
        var id = await session.Clinic.HalfReadCaseAsync();
        var cared = await session.Clinic.Surgeon.OpenClearAsync();
        await session.Clinic.CareForAsync(cared);
        return
        [
            (null, "/sign-in"),
            (TestClinic.SurgeonEmail, "/"),
            (TestClinic.SurgeonEmail, "/cases"),
            (TestClinic.SurgeonEmail, "/cases?q=nothing-like-it"),
            (TestClinic.SurgeonEmail, "/cases/new"),
            (TestClinic.SurgeonEmail, $"/cases/{id}"),
            (TestClinic.SurgeonEmail, $"/cases/{id}?stage=1&show=blocks"),
            (TestClinic.SurgeonEmail, $"/cases/{id}?view=slide"),
            (TestClinic.SurgeonEmail, $"/cases/{id}/stages/1/mark"),
            (TestClinic.SurgeonEmail, $"/cases/{id}/record"),
            (TestClinic.SurgeonEmail, $"/cases/{cared}"),
            (TestClinic.SurgeonEmail, $"/cases/{cared}/record"),
            (TestClinic.SurgeonEmail, $"/cases/{cared}/history"),
            (TestClinic.SurgeonEmail, $"/cases/{cared}/corrections"),
            (TestClinic.SurgeonEmail, "/second-reads"),
            (TestClinic.ManagerEmail, "/"),
            (TestClinic.AdministratorEmail, "/settings"),
            (TestClinic.ManagerEmail, "/audit"),
            (TestClinic.ManagerEmail, "/audit?from=1950-01-01&to=1950-01-31"),
            (TestClinic.SurgeonEmail, "/audit?groupBy=month"),
            (TestClinic.ManagerEmail, "/audit/cases"),
            (TestClinic.ManagerEmail, "/audit/counting-units?month=2018-05"),
            (TestClinic.SurgeonEmail, "/audit/counting-units?month=1950-01"),
        ];
    }
}
