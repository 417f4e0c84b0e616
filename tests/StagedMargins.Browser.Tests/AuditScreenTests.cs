using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>The audit as a manager and a surgeon see it.</summary>
[Collection<AtADesk>]
public sealed class AuditScreenTests(Desk desk)
{
    [Fact]
    public async Task A_manager_chooses_a_period_and_follows_a_figure_to_its_case_numbers()
    {
        var number = await EndedAsync("2025-02-11T12:00:00-04:00");
        var page = await desk.SitAsync(TestClinic.ManagerEmail);
        await page.ClickAsync("nav >> text=Audit");
        await page.FillAsync("[name=from]", "2025-02-01");
        await page.FillAsync("[name=to]", "2025-02-28");
        await page.SelectOptionAsync("[name=groupBy]", "areaClass");
        await page.ClickAsync("main button[type=submit]");
        await page.WaitForURLAsync("**/audit?from=2025-02-01*");
        await Expect(page.Locator("main")).ToContainTextAsync("In groups by area class");
        await Expect(page.Locator("main")).ToContainTextAsync("below 10 cases: not compared");
        await page.ClickAsync("tr:has(th:text-is('Ended as cleared')) a");
        await Expect(page.Locator(".numbers li")).ToHaveTextAsync([number]);
        await Expect(page.Locator("main")).Not.ToContainTextAsync("T-0");
    }

    [Fact]
    public async Task Both_charts_are_drawn_beside_the_table()
    {
        await EndedAsync("2025-03-11T12:00:00-04:00");
        var page = await desk.SitAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit", new PageGotoOptions { WaitUntil = WaitUntilState.Load });
        (await page.EvaluateAsync<int[]>("[...document.querySelectorAll('.charts img')].map(picture => picture.naturalWidth)")).ShouldBe([1000, 1000]);
    }

    [Fact]
    public async Task A_surgeon_s_figures_stand_beside_the_clinic_s()
    {
        await EndedAsync("2025-05-11T12:00:00-03:00");
        var page = await desk.SitAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync("/audit?from=2025-05-01&to=2025-05-31");
        await Expect(page.Locator("table.audit >> nth=0")).ToContainTextAsync("Clinic");
        await Expect(page.Locator("main")).Not.ToContainTextAsync(TestClinic.OtherSurgeonEmail);
    }

    [Fact]
    public async Task A_period_that_can_t_be_read_is_said_on_the_page()
    {
        var page = await desk.SitAsync(TestClinic.ManagerEmail);
        await page.GotoAsync("/audit?from=2025-05-01&to=2025-04-01");
        await Expect(page.Locator("[role=alert]")).ToContainTextAsync("ends before it begins");
    }

    private async Task<string> EndedAsync(string endedAt)
    {
        var id = await desk.Clinic.Surgeon.OpenClearAsync();
        (await desk.Clinic.Surgeon.EndAsync(id, Some.EndCleared().With("endedAt", endedAt))).Expect(200);
        return (await desk.Clinic.Surgeon.CaseAsync(id)).Text("caseNumber");
    }
}
