using StagedMargins.Web.Tests.Features.Audit;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>Ended cases as comma-separated values.</summary>
public abstract class CasesCsvTests(TestClinic clinic)
{
    [Fact]
    public async Task Each_case_that_ended_in_the_period_is_one_row_without_its_patient()
    {
        var opening = Some.Case().With("caseNumber", $"R{Guid.NewGuid():N}"[..20]);
        var id = await clinic.Surgeon.EndedAsync(2, "2013-02-10T12:00:00-04:00", opening);
        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 15.5, "widthMm": 10, "plane": "subcutaneousFat" }"""))).Expect(200);
        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "site": { "side": "right" }, "reason": "misread" }"""))).Expect(200);
        var reply = (await clinic.Manager.GetAsync("/api/cases.csv?from=2013-02&to=2013-02")).Expect(200);
        reply.MediaType.ShouldBe("text/csv");
        reply.Body.ShouldNotContain(opening["patientRef"]!.GetValue<string>());
        var row = Rows(reply.Body).ShouldHaveSingleItem();
        var openedOn = DateTimeOffset.Parse((await clinic.Surgeon.CaseAsync(id)).Text("openedAt"), System.Globalization.CultureInfo.InvariantCulture);
        (row["caseNumber"], row["openedOn"], row["endedOn"], row["surgeon"]).ShouldBe(
            (opening["caseNumber"]!.GetValue<string>(), openedOn.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), "2013-02-10", TestClinic.SurgeonEmail));
        (row["siteCode"], row["side"], row["areaClass"], row["morphology"], row["recurrent"], row["differentiation"]).ShouldBe(("C44.3", "right", "H", "8070/3", "false", "moderate"));
        (row["outcome"], row["recall"], row["stages"], row["clearedStage"], row["blocks"], row["readings"]).ShouldBe(("cleared", "false", "2", "2", "3", "3"));
        (row["measuredLengthMm"], row["measuredWidthMm"], row["measuredPlane"], row["repair"]).ShouldBe(("15.5", "10", "subcutaneousFat", "flap"));

        // Closed form of an ellipse: π·9·7/4 mm².
        double.Parse(row["lesionAreaMm2"], System.Globalization.CultureInfo.InvariantCulture).ShouldBe(Math.PI * 63 / 4, 1e-5);
    }

    [Fact]
    public async Task The_days_are_those_of_the_clinic_s_clock_and_a_surgeon_gets_their_own_cases()
    {
        // 2013-04-01 02:30 UTC is still 31 March in the clinic.
        await clinic.Surgeon.EndedAsync(1, "2013-04-01T02:30:00+00:00");
        await clinic.Surgeon.EndedAsync(1, "2013-04-01T02:30:00+00:00", Some.Case().With("surgeonEmail", TestClinic.OtherSurgeonEmail));
        (await RowsAsync(clinic.Manager, "from=2013-03&to=2013-03")).Count.ShouldBe(2);
        (await RowsAsync(clinic.Manager, "from=2013-04&to=2013-04")).ShouldBeEmpty();
        var own = (await RowsAsync(clinic.Surgeon, "from=2013-03-31&to=2013-03-31")).ShouldHaveSingleItem();
        (own["surgeon"], own["endedOn"]).ShouldBe((TestClinic.SurgeonEmail, "2013-03-31"));
    }

    [Fact]
    public async Task A_name_that_begins_like_a_formula_is_not_one()
    {
        // CWE-1236: a field that begins with = + - @ is run by spreadsheets.
        const string email = "+formula@clinic.invalid";
        await clinic.AddAsync(email, "surgeon");
        await clinic.Surgeon.EndedAsync(1, "2013-05-10T12:00:00-03:00", Some.Case().With("surgeonEmail", email));
        (await RowsAsync(clinic.Manager, "from=2013-05&to=2013-05")).ShouldHaveSingleItem()["surgeon"].ShouldBe($"'{email}");
    }

    [Theory]
    [InlineData("from=yesterday", "from")]
    [InlineData("from=2013-03&to=2013-02", "to")]
    public async Task What_can_t_be_read_is_a_problem_that_names_the_field(string query, string field) =>
        (await clinic.Manager.GetAsync($"/api/cases.csv?{query}")).ExpectProblem(400, field);

    [Fact]
    public async Task More_cases_than_are_read_at_once_come_once_each()
    {
        const int cases = 201;
        var administrator = await OtherClinic.AdministratorAsync(clinic);
        var surgeon = await TestClinic.AddAsync(administrator, clinic.Stranger, $"m{Guid.NewGuid():N}@other.invalid", "surgeon", "manager");
        for (var i = 0; i < cases; i++)
        {
            var id = await surgeon.OpenCaseAsync(Some.Case().Without("surgeonEmail"));
            (await surgeon.EndAsync(id, Some.Json("""{ "outcome": "notDone", "endedAt": "2026-03-03T12:00:00-05:00", "reason": "unwell" }"""))).Expect(200);
        }

        var rows = await RowsAsync(surgeon, "");
        rows.Count.ShouldBe(cases);
        rows.Select(row => row["caseNumber"]).ShouldBeUnique();
    }

    private static async Task<IReadOnlyList<Dictionary<string, string>>> RowsAsync(Caller caller, string query) =>
        Rows((await caller.GetAsync($"/api/cases.csv?{query}")).Expect(200).Body);

    // No field of these has a comma or a quotation mark in it.
    private static List<Dictionary<string, string>> Rows(string csv)
    {
        var lines = csv.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        var names = lines[0].Split(',');
        return [.. lines.Skip(1).Select(line => names.Zip(line.Split(',')).ToDictionary(pair => pair.First, pair => pair.Second.Trim('"')))];
    }
}

[Collection<OnSqlite>]
public sealed class CasesCsvTestsOnSqlite(SqliteClinic clinic) : CasesCsvTests(clinic);

[Collection<OnPostgres>]
public sealed class CasesCsvTestsOnPostgres(PostgresClinic clinic) : CasesCsvTests(clinic);
