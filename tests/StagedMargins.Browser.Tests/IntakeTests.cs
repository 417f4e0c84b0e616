using Microsoft.Playwright;
using StagedMargins.Browser.Tests.Testing;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Web.Tests.Testing;
using static Microsoft.Playwright.Assertions;

namespace StagedMargins.Browser.Tests;

/// <summary>Intake by hand: what follows from the facts while they are typed, the photo of the site, and corrections.</summary>
[Collection<SharedBrowser>]
public sealed class IntakeTests(BrowserSession session)
{
    private const string Said = "[data-risk-said]";

    [Fact]
    public async Task Area_class_and_T_categories_follow_while_facts_are_typed()
    {
        var page = await session.SignInAsync(TestClinic.SurgeonEmail, width: 1440, height: 900);
        await page.GotoAsync("/cases/new");
        await Expect(page.Locator(Said)).ToContainTextAsync("once site and tumour type are entered");
        await page.FillAsync("[name='tumour.morphology']", "8070/3");
        await Expect(page.Locator(Said)).ToContainTextAsync("Area class: H (high risk).");
        await Expect(page.Locator(Said)).ToContainTextAsync("AJCC 8, head and neck: TX");
        await page.FillAsync("[name='preOperative.lengthMm']", "15");
        await Expect(page.Locator(Said)).ToContainTextAsync("Not shown yet");
        await page.FillAsync("[name='preOperative.widthMm']", "11");
        await Expect(page.Locator(Said)).ToContainTextAsync("AJCC 8, head and neck: at least T1");
        await Expect(page.Locator("[name='tumour.perineural.calibreMm']")).ToBeHiddenAsync();
        await page.SelectOptionAsync("[name='tumour.perineural.present']", "true");
        await page.FillAsync("[name='tumour.perineural.calibreMm']", "0.1");
        await Expect(page.Locator(Said)).ToContainTextAsync("AJCC 8, head and neck: at least T3: perineural invasion");
        await Expect(page.Locator(Said)).ToContainTextAsync("Brigham and Women's: at least T2a: perineural invasion");
        await Expect(page.Locator(Said)).ToContainTextAsync("Consider a radiation opinion");
        await page.SelectOptionAsync("[name='tumour.bone']", "skullBase");
        await Expect(page.Locator(Said)).ToContainTextAsync("AJCC 8, head and neck: T4b");
        await page.SelectOptionAsync("[name='site.code']", "C44.5");
        await Expect(page.Locator(Said)).ToContainTextAsync("Area class: L (low risk).");
        await Expect(page.Locator(Said)).ToContainTextAsync("AJCC 8, head and neck: does not apply");
    }

    [Fact]
    public async Task Every_fact_that_is_entered_stands_in_the_case()
    {
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync("/cases/new");
        await page.FillAsync("[name=patientRef]", Some.PatientRef());
        await page.FillAsync("[name=twelveOClock]", "toward the vertex");
        await page.SelectOptionAsync("[name='site.side']", "left");
        await page.FillAsync("[name='tumour.morphology']", "8070/3");
        await page.FillAsync("[name='tumour.depthMm']", "6.5");
        await page.SelectOptionAsync("[name='tumour.deepestPlane']", "subcutaneousFat");
        await page.SelectOptionAsync("[name='tumour.perineural.present']", "true");
        await page.FillAsync("[name='tumour.perineural.calibreMm']", "0.08");
        await page.SelectOptionAsync("[name='tumour.perineural.named']", "false");
        await page.SelectOptionAsync("[name='tumour.bone']", "minorErosion");
        await page.FillAsync("[name=weightKg]", "70.5");
        foreach (var tick in new[] { "tumour.positiveNodes", "tumour.unresectable", "tumour.nevoidBasalCellSyndrome" })
        {
            await page.CheckAsync($"[name='{tick}']");
        }

        await page.GetByLabel("high-risk area").CheckAsync();
        await page.ClickAsync("button:has-text('Open the case')");
        await page.ArriveAsync("**/cases/*-*");
        var read = await session.Clinic.Surgeon.CaseAsync(new Uri(page.Url).Segments[^1]);
        read.At("tumour.perineural").ShouldBeJson("""{ "present": true, "calibreMm": 0.08, "named": false }""");
        read.Text("tumour.bone").ShouldBe("minorErosion");
        read.At("tumour.depthMm").ShouldBeJson("6.5");
        read.At("weightKg").ShouldBeJson("70.5");
        read.At("tumour.positiveNodes").ShouldBeJson("true");
        read.At("tumour.unresectable").ShouldBeJson("true");
        read.At("tumour.nevoidBasalCellSyndrome").ShouldBeJson("true");
        read.At("tumour.recurrent").ShouldBeNull();
        read.At("indications").ShouldBeJson("""["high-risk area"]""");
    }

    [Fact]
    public async Task A_photo_of_the_site_is_added_on_the_map_and_stands_on_the_record()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        var page = await session.SignInAsync(TestClinic.HistotechEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Add a photo of the marked site");
        await page.SetInputFilesAsync("[name=photo]", new FilePayload { Name = "notes.jpg", MimeType = "image/jpeg", Buffer = "a letter"u8.ToArray() });
        await page.ClickAsync("button:has-text('Add the photo')");
        await Expect(page.Locator("#site-confirmation [data-outcome]:visible")).ToContainTextAsync("neither a JPEG nor a PNG");
        await page.SetInputFilesAsync("[name=photo]", new FilePayload { Name = "marked.jpg", MimeType = "image/jpeg", Buffer = CameraFile.Jpeg(640, 400, orientation: 6) });
        await page.ClickAsync("button:has-text('Add the photo')");
        await Expect(page.Locator(".site-photo figcaption")).ToContainTextAsync($"added 20");
        await ShownAsync(page);
        (await session.Clinic.Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Photo of the marked site");
        await ShownAsync(page);
        await page.GotoAsync($"/cases/{id}/record");
        await ShownAsync(page);
        await Expect(page.Locator("#site")).ToContainTextAsync($"Photo 1 of the marked site");
    }

    [Fact]
    public async Task A_photo_that_is_too_large_is_told_before_it_is_sent()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Add a photo of the marked site");
        await page.SetInputFilesAsync("[name=photo]", new FilePayload { Name = "large.jpg", MimeType = "image/jpeg", Buffer = new byte[(10 * 1024 * 1024) + 1] });
        (await page.EvalOnSelectorAsync<string>("[name=photo]", "field => field.validationMessage")).ShouldContain("at most 10 MiB");
    }

    [Fact]
    public async Task Facts_are_corrected_with_a_reason_and_what_stood_there_before_is_seen()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        await session.Clinic.Surgeon.ConfirmSiteAsync(id, session.Clinic.Histotech);
        await session.Clinic.Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(64, 40));
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Correct the facts");
        (await page.InputValueAsync("#facts [name='site.side']")).ShouldBe("left");
        (await page.InputValueAsync("#facts [name='tumour.recurrent']")).ShouldBe("false");
        (await page.InputValueAsync("#facts [name='preOperative.lengthMm']")).ShouldBe("9");
        await Expect(page.Locator(Said)).ToContainTextAsync("AJCC 8, head and neck: at least T1");
        await page.SelectOptionAsync("#facts [name='site.side']", "right");
        await page.SelectOptionAsync("#facts [name='tumour.recurrent']", "true");
        await page.ClickAsync("text=Enter the correction");
        (await session.Clinic.Surgeon.CaseAsync(id)).Text("site.side").ShouldBe("left");
        await page.FillAsync("#facts [name=reason]", "The photo shows the right side.");
        await page.ClickAsync("text=Enter the correction");
        foreach (var path in new[] { $"/cases/{id}", $"/cases/{id}/record" })
        {
            await Expect(page.Locator("#facts .correction")).ToContainTextAsync("Reason: The photo shows the right side.");
            await Expect(page.Locator("#facts .correction tbody tr").First).ToContainTextAsync("left, alar crease (C44.3)");
            await Expect(page.Locator("#facts .correction tbody tr").First).ToContainTextAsync("right, alar crease (C44.3)");
            await Expect(page.Locator("#facts .correction tbody tr")).ToHaveCountAsync(2);
            await Expect(page.Locator(".site-photo .alert.loud")).ToContainTextAsync("Do not rely on this photo");
            await page.GotoAsync($"/cases/{id}/record");
        }

        await Expect(page.Locator("#site")).ToContainTextAsync("this confirmation no longer counts");
        await Expect(page.Locator("#risk tbody tr")).ToHaveCountAsync(2);
    }

    [Fact]
    public async Task A_correction_over_a_case_that_changed_meanwhile_is_refused()
    {
        var id = await session.Clinic.Surgeon.OpenCaseAsync();
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{id}");
        await page.ClickAsync("text=Correct the facts");
        await page.FillAsync("#facts [name=reason]", "weighed");
        await page.EvalOnSelectorAsync("#facts form", "form => { form.dataset.version = '\"7\"'; }");
        await page.ClickAsync("text=Enter the correction");
        await Expect(page.Locator("#facts [data-outcome]")).ToContainTextAsync("The case has changed since you opened it");
    }

    [Fact]
    public async Task The_record_says_who_confirmed_the_site_or_loudly_that_nobody_did_and_why()
    {
        var surgeon = session.Clinic.Surgeon;
        var confirmed = await surgeon.OpenCaseAsync();
        await surgeon.ConfirmSiteAsync(confirmed, session.Clinic.Histotech);
        var page = await session.SignInAsync(TestClinic.SurgeonEmail);
        await page.GotoAsync($"/cases/{confirmed}/record");
        await Expect(page.Locator("#site li").First).ToContainTextAsync($"{TestClinic.SurgeonEmail} confirmed left, alar crease (C44.3).");
        await Expect(page.Locator("#site li").Last).ToContainTextAsync(TestClinic.HistotechEmail);
        var unconfirmed = await surgeon.OpenCaseAsync();
        (await surgeon.RecordAsync(unconfirmed, Some.WholeLayer().With("reasonForUnconfirmedSite", "second person called away"))).Expect(201);
        await page.GotoAsync($"/cases/{unconfirmed}/record");
        await Expect(page.Locator("#site .alert.loud")).ToContainTextAsync("Reason given: second person called away");
        await Expect(page.Locator("#risk")).ToContainTextAsync("AJCC 8, head and neck: at least T1");
        await Expect(page.Locator("#risk")).ToContainTextAsync("rules 2026.2");
    }

    [Fact]
    public async Task The_administrator_sets_the_size_boundary_and_how_long_is_kept()
    {
        var page = await session.SignInAsync(TestClinic.AdministratorEmail);
        await page.GotoAsync("/settings");
        await page.SelectOptionAsync("[name=sizeBoundary]", "belongsBelow");
        await page.FillAsync("[name='retention.slideYears']", "12");
        var saved = await page.RunAndWaitForResponseAsync(() => page.ClickAsync("button:has-text('Save') >> nth=0"), answer => answer.Request.Method == "POST");
        saved.Status.ShouldBe(200);
        var clinic = (await session.Clinic.Administrator.GetAsync("/api/clinic")).Expect(200);
        clinic.Text("sizeBoundary").ShouldBe("belongsBelow");
        clinic.Number("retention.slideYears").ShouldBe(12);
        clinic.Number("retention.blockYears").ShouldBe(2);
        (await session.Clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "sizeBoundary": "belongsAbove", "retention": { "slideYears": 10 } }"""))).Expect(200);
    }

    private static async Task ShownAsync(IPage page)
    {
        var image = page.Locator(".site-photo img");
        await Expect(image).ToBeVisibleAsync();
        await page.WaitForFunctionAsync("() => document.querySelector('.site-photo img')?.naturalWidth === 640");
    }
}
