using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Audit;

/// <summary>The audit over HTTP, each test in a month of its own.</summary>
public abstract class AuditTests(TestClinic clinic)
{
    [Fact]
    public async Task A_month_has_the_figures_of_its_cases()
    {
        foreach (var stages in new[] { 1, 1, 2, 5 })
        {
            await clinic.Surgeon.EndedAsync(stages, "2025-01-15T12:00:00-04:00");
        }

        var month = (await clinic.Manager.GetAsync("/api/audit/months/2025-01")).Expect(200);
        (month.Number("cases"), month.Number("stages")).ShouldBe((4, 9));

        // 1, 1, 2, 5: mean 9/4, median 1.5 (type 7), sample standard deviation √((4·31 − 81)/12).
        month.At("meanStages")!.GetValue<double>().ShouldBe(2.25);
        month.At("medianStages")!.GetValue<double>().ShouldBe(1.5);
        month.At("sdStages")!.GetValue<double>().ShouldBe(Math.Sqrt(43 / 12.0), 1e-12);
        month.At("distribution").ShouldBeJson("""{ "1": 2, "2": 1, "3": 0, "4": 0, "5+": 1 }""");
        month.At("clearedByStage").ShouldBeJson("[0.5, 0.75, 0.75, 0.75, 1]");

        // Two blocks in each first stage and one in each further one.
        month.At("blocksPerStage")!.GetValue<double>().ShouldBe(13 / 9.0, 1e-12);

        // First stages were read 42 minutes after they were taken, the five others 30.
        (month.Number("stagesTimed"), month.Number("turnaroundP50Minutes")).ShouldBe((9, 30));
        var group = month.At("groups")!.AsArray().ShouldHaveSingleItem()!;
        group["key"]!.GetValue<string>().ShouldBe(TestClinic.SurgeonEmail);
        group["smallGroup"]!.GetValue<bool>().ShouldBeTrue();

        // The clinic is this surgeon alone: mean ± 1.959964·s/√4, and no limit below one stage.
        group["lower95"]!.GetValue<double>().ShouldBe(1);
        group["upper95"]!.GetValue<double>().ShouldBe(2.25 + (1.959964 * Math.Sqrt(43 / 12.0) / 2), 1e-9);
        month.Body.ShouldNotContain("patientRef");
        month.Body.ShouldNotContain("\"T-");
    }

    [Fact]
    public async Task A_month_begins_and_ends_by_the_clinic_s_clock_in_winter_and_in_summer()
    {
        // Halifax: UTC−4 on 31 January and UTC−3 on 30 June. Each pair is a second apart, on both sides of midnight there.
        foreach (var at in new[] { "2024-02-01T03:59:59Z", "2024-02-01T04:00:00Z", "2024-07-01T02:59:59Z", "2024-07-01T03:00:00Z" })
        {
            await clinic.Surgeon.EndedAsync(1, at);
        }

        foreach (var month in new[] { "2024-01", "2024-02", "2024-06", "2024-07" })
        {
            (await clinic.Manager.GetAsync($"/api/audit/months/{month}")).Expect(200).Number("cases").ShouldBe(1, month);
        }

        var months = (await clinic.Manager.GetAsync("/api/audit?from=2024-01&to=2024-12&groupBy=month")).Expect(200).At("groups")!.AsArray();
        months.Select(month => month!["key"]!.GetValue<string>()).ShouldBe(["2024-01", "2024-02", "2024-06", "2024-07"]);
        (await clinic.Manager.GetAsync("/api/audit?from=2024-01-31&to=2024-01-31")).Expect(200).Number("cases").ShouldBe(1);
    }

    [Fact]
    public async Task What_goes_wrong_a_month_has_limits_by_the_size_of_the_month()
    {
        var amended = await clinic.Surgeon.EndedAsync(1, "2012-03-06T12:00:00-04:00");
        await clinic.Surgeon.AmendAsync(amended, 1, "A", Some.Clear());
        await clinic.Surgeon.EndedAsync(1, "2012-04-06T12:00:00-03:00");
        var months = (await clinic.Manager.GetAsync("/api/audit?from=2012-03&to=2012-04&groupBy=month")).Expect(200);
        var charts = months.At("monthLimits")!.AsArray();
        charts.Select(chart => $"{chart!["figure"]} {chart["chart"]} {chart["per"]}").ShouldBe(
            ["amendments u readings", "corrections u cases", "reopenings u cases", "recalls p cases", "unreadable p readings", "notSeen p readings"]);

        // One amendment among five readings, three of them in the first month: u = 1/5, u ± 3·√(u/n).
        var amendments = charts[0]!;
        amendments["mean"]!.GetValue<double>().ShouldBe(0.2);
        var rows = amendments["months"]!.AsArray();
        rows.Select(row => row!["key"]!.GetValue<string>()).ShouldBe(["2012-03", "2012-04"]);
        rows.Select(row => row!["rate"]!.GetValue<double>()).ShouldBe([1 / 3.0, 0], 1e-12);
        rows.Select(row => row!["upper"]!.GetValue<double>()).ShouldBe([0.2 + (3 * Math.Sqrt(0.2 / 3)), 0.2 + (3 * Math.Sqrt(0.2 / 2))], 1e-12);
        rows.ShouldAllBe(row => row!["lower"]!.GetValue<double>() == 0 && !row["outside"]!.GetValue<bool>());
        (await clinic.Manager.GetAsync("/api/audit?from=2012-03&to=2012-04&groupBy=surgeon")).Expect(200).At("monthLimits")!.AsArray().ShouldBeEmpty();
    }

    [Fact]
    public async Task Cases_are_put_into_groups_by_what_was_known_before_surgery()
    {
        await clinic.Surgeon.EndedAsync(1, "2025-03-10T12:00:00-04:00");
        await clinic.Surgeon.EndedAsync(2, "2025-03-10T12:00:00-04:00", Some.Case().With("areaClass", null).With("site.code", "C44.4").With("tumour.morphology", "8090/3").With("preOperative", null));
        await clinic.Surgeon.EndedAsync(3, "2025-03-10T12:00:00-04:00", Some.Case().With("areaClass", null).With("site.code", "C44.9").With("tumour.morphology", "8090/3").With("preOperative", null));
        async Task<string> Keys(string by) => string.Join(' ', (await clinic.Manager.GetAsync($"/api/audit?from=2025-03&to=2025-03&groupBy={by}")).Expect(200)
            .At("groups")!.AsArray().Select(group => $"{group!["key"]}:{group["stages"]}"));
        (await Keys("areaClass")).ShouldBe("H:1 M:2 notStated:3");
        (await Keys("tumour")).ShouldBe("basalCell:5 squamousCell:1");
        (await Keys("sizeBand")).ShouldBe("notMeasured:5 under10Mm:1");
        (await Keys("surgeon")).ShouldBe($"{TestClinic.SurgeonEmail}:6");
        (await Keys("month")).ShouldBe("2025-03:6");
        (await clinic.Manager.GetAsync("/api/audit?from=2025-03&to=2025-03")).Expect(200).At("groups")!.AsArray().ShouldBeEmpty();
    }

    [Fact]
    public async Task A_surgeon_sees_their_own_figures_beside_the_clinic_s_and_no_other_name()
    {
        var other = Some.Case().With("surgeonEmail", TestClinic.OtherSurgeonEmail);
        await clinic.Surgeon.EndedAsync(1, "2025-04-10T12:00:00-03:00");
        var theirs = await clinic.Surgeon.EndedAsync(3, "2025-04-10T12:00:00-03:00", other);
        var number = (await clinic.Surgeon.CaseAsync(theirs)).Text("caseNumber");
        foreach (var path in new[] { "audit/months/2025-04", "audit?from=2025-04&to=2025-04&groupBy=surgeon" })
        {
            var own = (await clinic.Surgeon.GetAsync($"/api/{path}")).Expect(200);
            (own.Number("cases"), own.Number("stages"), own.Number("clinic.cases"), own.Number("clinic.stages")).ShouldBe((1, 1, 2, 4));
            own.At("groups")!.AsArray().ShouldHaveSingleItem()!["key"]!.GetValue<string>().ShouldBe(TestClinic.SurgeonEmail);
            own.Body.ShouldNotContain(TestClinic.OtherSurgeonEmail);
        }

        (await clinic.Surgeon.GetAsync("/api/audit/cases?from=2025-04&to=2025-04")).Expect(200).Body.ShouldNotContain(number);
        (await clinic.Surgeon.GetAsync("/api/audit.csv?from=2025-04&to=2025-04&groupBy=surgeon")).Expect(200).Body.ShouldNotContain(TestClinic.OtherSurgeonEmail);
        (await clinic.Surgeon.PostAsync("/api/audit/months/2025-04/close", null)).ExpectProblem(403);
        var all = (await clinic.Manager.GetAsync("/api/audit/months/2025-04")).Expect(200);
        (all.Number("cases"), all.At("clinic")).ShouldBe((2, null));
    }

    [Theory]
    [InlineData("histotech")]
    [InlineData("administrator")]
    public async Task The_audit_is_not_for_other_roles(string role)
    {
        foreach (var path in new[] { "audit", "audit.csv", "audit/months/2025-01", "audit/months/2025-01.csv", "audit/cases", "audit/funnel.png", "audit/months.png", "audit/published" })
        {
            (await clinic.WithRole(role).GetAsync($"/api/{path}")).ExpectProblem(403);
        }

        (await clinic.WithRole(role).PostAsync("/api/audit/months/2025-01/close", null)).ExpectProblem(403);
    }

    [Fact]
    public async Task Another_clinic_s_cases_are_in_no_figure()
    {
        await clinic.Surgeon.EndedAsync(1, "2025-05-10T12:00:00-03:00");
        var other = await OtherClinic.AdministratorAsync(clinic);
        var manager = await TestClinic.AddAsync(other, clinic.Stranger, $"m{Guid.NewGuid():N}@other.invalid", "manager");
        var view = (await manager.GetAsync("/api/audit?groupBy=month")).Expect(200);
        (view.Number("cases"), view.At("meanStages"), view.At("groups")!.AsArray().Count).ShouldBe((0, null, 0));
        (await manager.GetAsync("/api/audit/cases")).Expect(200).At("caseNumbers")!.AsArray().ShouldBeEmpty();
    }

    [Theory]
    [InlineData("audit/months/2025-13", "month")]
    [InlineData("audit/months/january", "month")]
    [InlineData("audit/months/january.csv", "month")]
    [InlineData("audit?from=yesterday", "from")]
    [InlineData("audit?to=2025-02-30", "to")]
    [InlineData("audit?from=2025-03&to=2025-02", "to")]
    [InlineData("audit?groupBy=weather", "groupBy")]
    [InlineData("audit.csv?groupBy=Surgeon", "groupBy")]
    [InlineData("audit/cases?figure=weather", "figure")]
    [InlineData("audit/cases?groupBy=surgeon&key=nobody", "key")]
    [InlineData("audit/cases?groupBy=month&key=nothing", "month")]
    [InlineData("audit/cases?groupBy=tumour&key=%00", "key")]
    [InlineData("audit/cases?after=%00", "after")]
    [InlineData("audit/funnel.png?width=10", "width")]
    [InlineData("audit/months.png?width=100000", "width")]
    public async Task What_can_t_be_read_is_a_problem_that_names_the_field(string path, string field) =>
        (await clinic.Manager.GetAsync($"/api/{path}")).ExpectProblem(400, field);

    [Fact]
    public async Task A_figure_leads_to_the_numbers_of_its_cases_and_to_nothing_else_of_them()
    {
        var first = await clinic.Surgeon.EndedAsync(1, "2025-06-10T12:00:00-03:00");
        var second = await clinic.Surgeon.EndedAsync(2, "2025-06-10T12:00:00-03:00");
        var number = (await clinic.Surgeon.CaseAsync(second)).Text("caseNumber");
        var behind = (await clinic.Manager.GetAsync("/api/audit/cases?from=2025-06&to=2025-06&groupBy=areaClass&key=H&figure=stages2")).Expect(200);
        behind.Json.ShouldBeJson($$"""{ "caseNumbers": ["{{number}}"], "next": null }""");
        (await clinic.Manager.GetAsync("/api/audit/cases?from=2025-06&to=2025-06")).Expect(200).At("caseNumbers")!.AsArray().Count.ShouldBe(2);
        (await clinic.Manager.GetAsync("/api/audit/cases?from=2025-06&to=2025-06&figure=recalls")).Expect(200).At("caseNumbers")!.AsArray().ShouldBeEmpty();
        await clinic.Surgeon.AmendAsync(first, 1, "A", Some.Tumour("01:00", "02:00"));
        (await clinic.Manager.GetAsync("/api/audit/cases?from=2025-06&to=2025-06&figure=recalls")).Expect(200).At("caseNumbers")!.AsArray().Count.ShouldBe(1);
    }

    [Fact]
    public async Task Comma_separated_values_hold_the_same_figures()
    {
        await clinic.Surgeon.EndedAsync(1, "2025-07-10T12:00:00-03:00");
        await clinic.Surgeon.EndedAsync(2, "2025-07-10T12:00:00-03:00");
        foreach (var path in new[] { "audit.csv?from=2025-07&to=2025-07&groupBy=surgeon", "audit/months/2025-07.csv" })
        {
            var csv = (await clinic.Manager.GetAsync($"/api/{path}")).Expect(200);
            csv.MediaType.ShouldBe("text/csv");
            var rows = csv.Body.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(',')).ToList();
            rows.Count.ShouldBe(3);
            string Cell(int row, string column) => rows[row][Array.IndexOf(rows[0], column)];
            rows.ShouldAllBe(row => row.Length == rows[0].Length);
            (Cell(1, "key"), Cell(1, "cases"), Cell(1, "meanStages"), Cell(1, "distribution.2"), Cell(1, "smallGroup")).ShouldBe(("all", "2", "1.5", "1", ""));
            (Cell(2, "key"), Cell(2, "stages"), Cell(2, "smallGroup")).ShouldBe((TestClinic.SurgeonEmail, "3", "true"));
        }
    }

    [Fact]
    public async Task A_closed_month_stays_as_it_was_closed_and_says_what_changed_since()
    {
        var id = await clinic.Surgeon.EndedAsync(1, "2025-08-10T12:00:00-03:00");
        var number = (await clinic.Surgeon.CaseAsync(id)).Text("caseNumber");
        (await clinic.Manager.GetAsync("/api/audit/months/2025-08")).Expect(200).At("closing").ShouldBeNull();
        var closed = (await clinic.Manager.PostAsync("/api/audit/months/2025-08/close", null)).Expect(200);
        (closed.Text("closedBy"), closed.Number("figures.cases"), closed.At("changedSince")!.AsArray().Count, closed.At("changedCases")!.AsArray().Count)
            .ShouldBe((TestClinic.ManagerEmail, 1, 0, 0));

        await clinic.Surgeon.AmendAsync(id, 1, "A", Some.Tumour("01:00", "02:00"));
        var again = (await clinic.Manager.PostAsync("/api/audit/months/2025-08/close", null)).Expect(200);
        (again.Text("closedAt"), again.Number("figures.recalls")).ShouldBe((closed.Text("closedAt"), 0));
        var now = (await clinic.Manager.GetAsync("/api/audit/months/2025-08")).Expect(200);
        now.At("closing.changedCases").ShouldBeJson($"""["{number}"]""");
        var recalls = now.At("closing.changedSince")!.AsArray().Single(change => change!["figure"]!.GetValue<string>() == "recalls");
        recalls.ShouldBeJson("""{ "figure": "recalls", "kept": 0, "now": 1 }""");
        now.Number("recalls").ShouldBe(1);
        (await clinic.Surgeon.GetAsync("/api/audit/months/2025-08")).Expect(200).At("closing").ShouldBeNull();
        await Should.ThrowAsync<System.Data.Common.DbException>(() => clinic.Database.ExecuteAsync("UPDATE month_closings SET figures = '{}'"));
        await Should.ThrowAsync<System.Data.Common.DbException>(() => clinic.Database.ExecuteAsync("DELETE FROM month_closings"));
    }

    [Fact]
    public async Task A_closed_month_lists_what_was_corrected_and_reopened_since()
    {
        var corrected = await clinic.Surgeon.EndedAsync(1, "2021-11-10T12:00:00-04:00");
        var reopened = await clinic.Surgeon.EndedAsync(1, "2021-11-10T12:00:00-04:00");
        await clinic.Surgeon.EndedAsync(1, "2021-11-10T12:00:00-04:00");
        (await clinic.Manager.PostAsync("/api/audit/months/2021-11/close", null)).Expect(200).Number("figures.cases").ShouldBe(3);

        (await clinic.Surgeon.PostAsync($"/api/cases/{corrected}/stages/1/correction", Some.Json("""{ "reason": "Typed wrongly", "takenAt": "2021-11-10T10:00:00-04:00" }"""))).Expect(200);
        (await clinic.Surgeon.PostAsync($"/api/cases/{reopened}/reopening", Some.Json("""{ "reason": "Ended by mistake" }"""))).Expect(200);

        var closing = (await clinic.Manager.GetAsync("/api/audit/months/2021-11")).Expect(200).At("closing")!;
        string[] numbers = [(await clinic.Surgeon.CaseAsync(corrected)).Text("caseNumber"), (await clinic.Surgeon.CaseAsync(reopened)).Text("caseNumber")];
        closing["changedCases"]!.AsArray().Select(number => number!.GetValue<string>()).ShouldBe(numbers, ignoreOrder: true);
        var since = closing["changedSince"]!.AsArray().ToDictionary(change => change!["figure"]!.GetValue<string>());
        since["cases"].ShouldBeJson("""{ "figure": "cases", "kept": 3, "now": 2 }""");
        since["corrections"].ShouldBeJson("""{ "figure": "corrections", "kept": 0, "now": 1 }""");
    }

    [Fact]
    public async Task A_closed_month_keeps_its_bounds_when_the_clinic_changes_its_time_zone()
    {
        // Halifax: UTC-4 in January. By the clock of Tokyo both would be in February.
        await clinic.Surgeon.EndedAsync(1, "2023-01-31T20:00:00-04:00");
        await clinic.Surgeon.EndedAsync(1, "2023-01-31T23:59:59-04:00");
        (await clinic.Manager.PostAsync("/api/audit/months/2023-01/close", null)).Expect(200).Number("figures.cases").ShouldBe(2);
        (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "timeZone": "Asia/Tokyo" }"""))).Expect(200);
        try
        {
            var closed = (await clinic.Manager.GetAsync("/api/audit/months/2023-01")).Expect(200);
            (closed.Number("cases"), closed.At("closing.changedSince")!.AsArray().Count).ShouldBe((2, 0));
        }
        finally
        {
            (await clinic.Administrator.PostAsync("/api/clinic", Some.Json($$"""{ "timeZone": "{{TestClinic.TimeZone}}" }"""))).Expect(200);
        }
    }

    [Fact]
    public async Task A_month_that_is_not_over_can_t_be_closed() =>
        (await clinic.Manager.PostAsync("/api/audit/months/2199-12/close", null)).ExpectProblem(409);

    [Fact]
    public async Task A_case_that_ended_before_any_layer_is_counted_apart()
    {
        var id = await clinic.Surgeon.OpenCaseAsync();
        (await clinic.Surgeon.EndAsync(id, Some.Json("""{ "outcome": "notDone", "reason": "patient's wish", "endedAt": "2025-09-10T12:00:00-03:00" }"""))).Expect(200);
        var month = (await clinic.Manager.GetAsync("/api/audit/months/2025-09")).Expect(200);
        (month.Number("cases"), month.Number("casesWithoutLayer"), month.Number("notDone")).ShouldBe((0, 1, 1));
        (month.Number("cases"), month.Number("casesWithoutLayer"), month.At("meanStages"), month.At("clearedByStage")!.AsArray().Count).ShouldBe((0, 1, null, 0));
    }

    [Fact]
    public async Task A_case_that_was_reopened_counts_once_in_the_month_of_its_last_ending()
    {
        var id = await clinic.Surgeon.EndedAsync(2, "2022-03-10T12:00:00-04:00");
        async Task<(int March, int May)> CasesAsync() =>
            ((await clinic.Manager.GetAsync("/api/audit/months/2022-03")).Expect(200).Number("cases"), (await clinic.Manager.GetAsync("/api/audit/months/2022-05")).Expect(200).Number("cases"));
        (await CasesAsync()).ShouldBe((1, 0));
        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/reopening", Some.Json("""{ "reason": "stage 2 was never taken" }"""))).Expect(200);
        (await CasesAsync()).ShouldBe((0, 0));
        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/stages/2/withdrawal", Some.Json("""{ "reason": "never taken" }"""))).Expect(200);
        await clinic.Surgeon.AmendAsync(id, 1, "B", Some.Clear());
        foreach (var review in (await clinic.Surgeon.CaseAsync(id)).At("reviews")!.AsArray())
        {
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/reviews/{review!["id"]}/resolution", Some.Json("""{ "decision": "noChange", "note": "none there" }"""))).Expect(200);
        }

        (await clinic.Surgeon.EndAsync(id, Some.EndCleared().With("endedAt", "2022-05-10T12:00:00-03:00"))).Expect(200);
        (await CasesAsync()).ShouldBe((0, 1));
        var month = (await clinic.Manager.GetAsync("/api/audit/months/2022-05")).Expect(200);
        (month.Number("stages"), month.Number("stagesTimed"), month.Number("reopenings"), month.Number("corrections"), month.Number("reviewsOpen")).ShouldBe((1, 1, 1, 1, 0));
        (await clinic.Manager.GetAsync("/api/audit/cases?from=2022-05&to=2022-05&figure=reopenings")).Expect(200).At("caseNumbers")!.AsArray().Count.ShouldBe(1);
    }

    [Fact]
    public async Task A_paused_case_is_in_no_figure_and_one_that_was_stopped_without_being_cleared_has_its_own()
    {
        var paused = await clinic.Surgeon.OpenClearAsync();
        (await clinic.Surgeon.EndAsync(paused, Some.Json("""{ "outcome": "continuesLater", "continuesOn": "2022-07-20", "endedAt": "2022-07-10T12:00:00-03:00" }"""))).Expect(200);
        var stopped = await clinic.Surgeon.OpenWithLayerAsync();
        (await clinic.Surgeon.EndAsync(stopped, Some.Json("""{ "outcome": "stoppedNotCleared", "reason": "wish", "plan": "permanent sections", "endedAt": "2022-07-10T12:00:00-03:00" }"""))).Expect(200);
        var month = (await clinic.Manager.GetAsync("/api/audit/months/2022-07")).Expect(200);
        (month.Number("cases"), month.Number("stoppedNotCleared"), month.Number("stoppedWithTumour")).ShouldBe((1, 1, 0));
    }

    [Fact]
    public async Task Charts_are_pictures_with_ink_on_them_with_and_without_cases()
    {
        await clinic.Surgeon.EndedAsync(1, "2025-10-10T12:00:00-03:00");
        await clinic.Surgeon.EndedAsync(2, "2025-11-10T12:00:00-04:00");
        foreach (var path in new[] { "funnel.png?from=2025-10&to=2025-11", "months.png?from=2025-10&to=2025-11", "funnel.png?from=1950&to=1950", "funnel.png?from=1950-01&to=1950-01", "months.png?from=1950-01&to=1950-01&width=400" })
        {
            using var answer = await clinic.Manager.SendForBytesAsync(new HttpRequestMessage(HttpMethod.Get, $"/api/audit/{path}"));
            if (path.Contains("from=1950&", StringComparison.Ordinal))
            {
                ((int)answer.StatusCode).ShouldBe(400);
                continue;
            }

            answer.Content.Headers.ContentType!.MediaType.ShouldBe("image/png");
            using var picture = SkiaSharp.SKBitmap.Decode(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
            picture.Width.ShouldBe(path.Contains("width", StringComparison.Ordinal) ? 400 : 1000);

            // A title of letters leaves ink in the middle of the top edge; a typeface without them would leave none.
            Enumerable.Range(0, picture.Height / 12).Sum(y => Enumerable.Range(0, picture.Width).Count(x => picture.GetPixel(x, y).Red < 200)).ShouldBeGreaterThan(100, path);
        }
    }

    [Fact]
    public async Task Published_values_name_their_source()
    {
        var all = (await clinic.Surgeon.GetAsync("/api/audit/published")).Expect(200).Json.AsArray();
        all.Count.ShouldBeGreaterThan(5);
        all.ShouldAllBe(value => value!["citation"]!.GetValue<string>().Length > 20 && value["year"]!.GetValue<int>() > 1900);

        // Krishnan et al., JAMA Dermatol 2017;153:565–570.
        all.ShouldContain(value => value!["value"]!.GetValue<double>() == 1.74);
    }
}

[Collection<OnSqlite>]
public sealed class AuditTestsOnSqlite(SqliteClinic clinic) : AuditTests(clinic);

[Collection<OnPostgres>]
public sealed class AuditTestsOnPostgres(PostgresClinic clinic) : AuditTests(clinic);
