using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>The audit as a manager and a surgeon see it.</summary>
[Collection<SharedBrowser>]
public sealed class AuditScreenTests(BrowserSession session)
{
    [Fact]
    public async Task A_manager_chooses_a_period_and_follows_a_figure_to_its_case_numbers()
    {
        var number = await EndedAsync("2025-02-11T12:00:00-04:00");
        var page = await session.SignInAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/");
        await page.ClickAsync("nav >> text=Audit");
        await page.FillAsync("[name=from]", "2025-02-01");
        await page.FillAsync("[name=to]", "2025-02-28");
        await page.SelectOptionAsync("[name=groupBy]", "areaClass");
        await page.ClickAsync("main button[type=submit]");
        await page.ArriveAsync("**/audit?from=2025-02-01*");
        await Expect(page.Locator("main")).ToContainTextAsync("Grouped by area class");
        await Expect(page.Locator("main")).ToContainTextAsync("fewer than 10 cases: not compared");
        await page.ClickAsync("tr:has(th:text-is('Ended as cleared')) a");
        await Expect(page.Locator(".numbers li")).ToHaveTextAsync([number]);
        await Expect(page.Locator("main")).Not.ToContainTextAsync("T-0");
    }

    [Fact]
    public async Task Both_charts_are_drawn_beside_the_table()
    {
        await EndedAsync("2025-03-11T12:00:00-04:00");
        var page = await session.SignInAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit", new PageGotoOptions { WaitUntil = WaitUntilState.Load });
        (await page.EvaluateAsync<int[]>("[...document.querySelectorAll('.charts img')].map(picture => picture.naturalWidth)")).ShouldBe([1000, 1000]);
    }

    [Fact]
    public async Task A_surgeon_s_figures_stand_beside_the_clinic_s()
    {
        await EndedAsync("2025-05-11T12:00:00-03:00");
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync("/audit?from=2025-05-01&to=2025-05-31");
        await Expect(page.Locator("table.audit >> nth=0")).ToContainTextAsync("Clinic");
        await Expect(page.Locator("main")).Not.ToContainTextAsync(TestClinic.OtherSurgeonEmail);
    }

    [Fact]
    public async Task A_manager_closes_a_month_that_is_over_and_sees_what_changed_since()
    {
        var number = await EndedAsync("2025-07-11T12:00:00-03:00");
        var page = await session.SignInAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit?from=2025-07-01&to=2025-07-31");
        await page.ClickAsync("button:has-text('Close 2025-07')");
        await Expect(page.Locator("main")).ToContainTextAsync("Nothing has changed since.");
        await Expect(page.Locator("button:has-text('Close 2025-07')")).ToHaveCountAsync(0);

        var id = (await session.Clinic.Surgeon.GetAsync($"/api/cases?q={number}")).Expect(200).At("items[0].id")!.GetValue<string>();
        await session.Clinic.Surgeon.AmendAsync(id, 1, "A", Some.Tumour("01:00", "02:00"));
        await page.ReloadAsync();
        await Expect(page.Locator("main")).ToContainTextAsync("Changed since:");
        await Expect(page.Locator("main")).ToContainTextAsync($"Cases changed since: {number}.");
        await Expect(page.Locator("main")).ToContainTextAsync("recalls 0 → 1");
    }

    [Fact]
    public async Task A_month_that_is_not_over_is_not_offered_for_closing()
    {
        var page = await session.SignInAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit");
        await page.ClickAsync("nav[aria-label=Months] a >> nth=0");
        await Expect(page.Locator("nav[aria-label=Months] [aria-current]")).ToHaveCountAsync(1);
        await Expect(page.Locator("form[data-api$='/close']")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task On_paper_the_figures_stand_without_what_only_a_screen_can_do()
    {
        await EndedAsync("2025-08-11T12:00:00-03:00");
        var page = await session.SignInAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit?from=2025-08-01&to=2025-08-31", new PageGotoOptions { WaitUntil = WaitUntilState.Load });
        using var paper = UglyToad.PdfPig.PdfDocument.Open(await page.PdfAsync(new PagePdfOptions { Format = "A4" }));
        var text = string.Join(' ', paper.GetPages().SelectMany(sheet => sheet.GetWords()).Select(word => word.Text));
        text.ShouldContain("Stages per case, mean");
        text.ShouldContain("not a diagnosis");
        paper.GetPages().Sum(sheet => sheet.GetImages().Count()).ShouldBeGreaterThanOrEqualTo(2);
        string[] onScreenAlone = ["Sign out", "Save as CSV", "Close 2025-08"];
        onScreenAlone.ShouldAllBe(words => !text.Contains(words, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_period_that_can_t_be_read_is_said_on_the_page()
    {
        var page = await session.SignInAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit?from=2025-05-01&to=2025-04-01");
        await Expect(page.Locator("[role=alert]")).ToContainTextAsync("ends before it begins");
    }

    private async Task<string> EndedAsync(string endedAt)
    {
        var id = await session.Clinic.Surgeon.OpenClearAsync();
        (await session.Clinic.Surgeon.EndAsync(id, Some.EndCleared().With("endedAt", endedAt))).Expect(200);
        return (await session.Clinic.Surgeon.CaseAsync(id)).Text("caseNumber");
    }
}
