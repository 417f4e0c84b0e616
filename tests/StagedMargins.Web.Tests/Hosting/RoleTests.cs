using System.Text.Json.Nodes;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Storage.People;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>The roles table of the contract: each row for each role.</summary>
public abstract class RoleTests(TestClinic clinic)
{
    private static readonly string[] Bench = [Roles.Histotech, Roles.Surgeon];
    private static readonly string[] Operators = [Roles.Surgeon];
    private static readonly string[] Auditors = [Roles.Surgeon, Roles.Manager];
    private static readonly string[] Managers = [Roles.Manager];
    private static readonly string[] Administrators = [Roles.Administrator];

    private static readonly Dictionary<string, Row> Rows = new()
    {
        ["open a case"] = new(Bench, Nothing, (who, _) => who.PostAsync("/api/cases", Some.Case())),
        ["record a stage"] = new(Bench, Opened, (who, id) => who.RecordAsync(id, Some.WholeLayer())),
        ["rehearse a stage"] = new(Bench, Opened, (who, id) => who.PreviewAsync(id, Some.WholeLayer())),
        ["add a block"] = new(Bench, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("C", "01:00", "02:00"))),
        ["enter times"] = new(Bench, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))),
        ["record a reading"] = new(Bench, WithLayer, (who, id) => who.ReadAsync(id, 1, "A", Some.Clear())),
        ["amend a signed reading"] = new(Operators, WithSigned, (who, ids) => who.ReadAsync(ids.Split(' ')[0], 1, "A", Some.Clear().With("amends", ids.Split(' ')[1]).With("reason", "second look"))),
        ["put right one's own unsigned reading"] = new(Bench, WithReading, (who, ids) => who.ReadAsync(ids.Split(' ')[0], 1, "A", Some.Clear().With("amends", ids.Split(' ')[1]).With("reason", "second look"))),
        ["withdraw a signed reading"] = new(Operators, WithSigned, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/readings/{ids.Split(' ')[1]}/withdrawal", Why())),
        ["withdraw one's own unsigned reading"] = new(Bench, WithReading, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/readings/{ids.Split(' ')[1]}/withdrawal", Why())),
        ["correct a stage with a signed reading"] = new(Operators, WithSigned, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/stages/1/correction", Why().With("takenAt", "2026-03-03T09:00:00-05:00"))),
        ["correct a stage one recorded"] = new(Bench, RecordedByHistotech, (who, id) => who.PostAsync($"/api/cases/{id}/stages/1/correction", Why().With("takenAt", "2026-03-03T09:00:00-05:00"))),
        ["withdraw the last stage"] = new(Operators, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/stages/1/withdrawal", Why())),
        ["open a case again"] = new(Operators, Ended, (who, id) => who.PostAsync($"/api/cases/{id}/reopening", Why())),
        ["see reviews"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/reviews")),
        ["answer a review"] = new(Operators, WithReview, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/reviews/{ids.Split(' ')[1]}/resolution", Some.Json("""{ "decision": "observe", "note": "seen" }"""))),
        ["correct the side after stage 1"] = new(Operators, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "site": { "side": "right" }, "reason": "typed wrong" }"""))),
        ["correct the patient before stage 1"] = new(Bench, Opened, (who, id) => who.PostAsync($"/api/cases/{id}/facts", Why().With("patientRef", $"P-{Guid.NewGuid():N}"))),
        ["correct the patient after stage 1"] = new(Operators, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/facts", Why().With("patientRef", $"P-{Guid.NewGuid():N}"))),
        ["correct 12 o'clock after stage 1"] = new(Operators, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/facts", Why().With("twelveOClock", "toward the ear"))),
        ["sign several"] = new(Operators, WithReading, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/countersignatures", new JsonObject { ["readingIds"] = new JsonArray(ids.Split(' ')[1]) })),
        ["countersign"] = new(Operators, WithReading, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/stages/1/blocks/A/readings/{ids.Split(' ')[1]}/countersign", null)),
        ["countersign by number"] = new(Operators, WithReading, (who, ids) => who.PostAsync($"/api/cases/{ids.Split(' ')[0]}/readings/{ids.Split(' ')[1]}/countersign", null)),
        ["close a case"] = new(Operators, Clear, (who, id) => who.EndAsync(id, Some.EndCleared())),
        ["measure the defect"] = new(Operators, Clear, (who, id) => who.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 14, "widthMm": 10 }"""))),
        ["correct facts"] = new(Bench, Opened, (who, id) => who.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))),
        ["confirm the site"] = new(Bench, Opened, (who, id) => who.PostAsync($"/api/cases/{id}/site-confirmations", new JsonObject())),
        ["add a photo of the site"] = new(Bench, Opened, (who, id) => who.SendSitePhotoAsync(id, CameraFile.Png(40, 30))),
        ["see the photo of the site"] = new(Bench, WithPhoto, (who, id) => who.GetAsync($"/api/cases/{id}/site-photo")),
        ["see the risk"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/risk")),
        ["see kept assessments"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/risk/assessments")),
        ["rehearse the risk"] = new(Bench, Nothing, (who, _) => who.PostAsync("/api/cases/risk-rehearsal", Some.Case())),
        ["give anaesthetic"] = new(Bench, Opened, (who, id) => who.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose())),
        ["see the anaesthetic"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/anaesthetic")),
        ["enter a repair"] = new(Operators, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair())),
        ["enter a visit"] = new(Operators, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-04-01", false))),
        ["see visits"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/visits")),
        ["send for permanent sections"] = new(Bench, WithLayer, (who, id) => who.PostAsync($"/api/cases/{id}/stages/1/blocks/A/permanent-section", new JsonObject())),
        ["see tasks of second reads"] = new(Operators, Nothing, (who, _) => who.GetAsync("/api/second-reads")),
        ["see recurrence"] = new(Auditors, Nothing, (who, _) => who.GetAsync("/api/follow-up/recurrence")),
        ["see counting units"] = new(Auditors, Nothing, (who, _) => who.GetAsync("/api/counting-units/months/2026-03")),
        ["see a case"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}")),
        ["see a stage"] = new(Bench, WithLayer, (who, id) => who.GetAsync($"/api/cases/{id}/stages/1")),
        ["print a record"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/record.pdf")),
        ["print labels"] = new(Bench, WithLayer, (who, id) => who.GetAsync($"/api/cases/{id}/labels.pdf")),
        ["plan blocks"] = new(Bench, Nothing, (who, _) => who.GetAsync("/api/block-plan?from=01:00&to=02:00")),
        ["see margins"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/margins")),
        ["see the list"] = new(Bench, Nothing, (who, _) => who.GetAsync("/api/cases")),
        ["see the audit"] = new(Auditors, Nothing, (who, _) => who.GetAsync("/api/audit?groupBy=surgeon")),
        ["see a month of the audit"] = new(Auditors, Nothing, (who, _) => who.GetAsync("/api/audit/months/2020-01")),
        ["close a month"] = new(Managers, Nothing, (who, _) => who.PostAsync("/api/audit/months/2020-01/close", null)),
        ["export a case"] = new(Bench, Opened, (who, id) => who.GetAsync($"/api/cases/{id}/fhir")),
        ["import a case"] = new(Operators, Elsewhere, (who, bundle) => who.PostTextAsync("/api/cases/import", bundle)),
        ["see cases as rows"] = new(Auditors, Nothing, (who, _) => who.GetAsync("/api/cases.csv")),
        ["see people"] = new(Administrators, Nothing, (who, _) => who.GetAsync("/api/people")),
        ["add a person"] = new(Administrators, Nothing, (who, _) => who.PostAsync("/api/people", Some.Person($"n{Guid.NewGuid():N}@clinic.invalid", Roles.Manager))),
        ["see backups"] = new(Administrators, Nothing, (who, _) => who.GetAsync("/api/backups")),
        ["set up the clinic"] = new(Administrators, Nothing, (who, _) => who.PostAsync("/api/clinic", new JsonObject())),
    };

    public static MatrixTheoryData<string, string> RowsAndRoles => new(Rows.Keys, Roles.All);

    [Theory]
    [MemberData(nameof(RowsAndRoles))]
    public async Task A_role_may_do_what_its_row_says_and_nothing_else(string row, string role)
    {
        var (may, prepare, act) = Rows[row];
        var ready = await prepare(clinic);
        var before = await clinic.Database.WrittenAsync();
        var reply = await act(clinic.WithRole(role), ready);
        if (may.Contains(role))
        {
            reply.Status.ShouldBeInRange(200, 201);
        }
        else
        {
            reply.ExpectProblem(403);
            (await clinic.Database.WrittenAsync()).ShouldBe(before);
        }
    }

    private static Task<string> Nothing(TestClinic at) => Task.FromResult("");

    private static async Task<string> WithPhoto(TestClinic at)
    {
        var id = await at.Surgeon.OpenCaseAsync();
        await at.Surgeon.AddSitePhotoAsync(id, CameraFile.Png(40, 30));
        return id;
    }

    private static Task<string> Opened(TestClinic at) => at.Surgeon.OpenCaseAsync();

    private static Task<string> WithLayer(TestClinic at) => at.Surgeon.OpenWithLayerAsync();

    private static Task<string> Clear(TestClinic at) => at.Surgeon.OpenClearAsync();

    // The bundle of a case of another clinic.
    private static async Task<string> Elsewhere(TestClinic at)
    {
        var there = await OtherClinic.SurgeonAsync(at);
        var id = await there.OpenCaseAsync(Some.Case().Without("surgeonEmail").With("caseNumber", $"E{Guid.NewGuid():N}"[..20]));
        return (await there.GetAsync($"/api/cases/{id}/fhir")).Expect(200).Body;
    }

    private static JsonObject Why() => Some.Json("""{ "reason": "typed wrong" }""");

    private static async Task<string> Ended(TestClinic at)
    {
        var id = await at.Surgeon.OpenClearAsync();
        (await at.Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        return id;
    }

    private static async Task<string> RecordedByHistotech(TestClinic at)
    {
        var id = await at.Histotech.OpenCaseAsync();
        (await at.Histotech.RecordAsync(id, Some.WholeLayer())).Expect(201);
        return id;
    }

    // A case and a reading in it that its reader wrote down.
    private static async Task<string> WithSigned(TestClinic at)
    {
        var id = await at.Surgeon.OpenWithLayerAsync();
        return $"{id} {(await at.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id")}";
    }

    // A case and a review of it that is open.
    private static async Task<string> WithReview(TestClinic at)
    {
        var id = await Ended(at);
        (await at.Surgeon.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-06-03", recurrence: true))).Expect(201);
        return $"{id} {(await at.Surgeon.CaseAsync(id)).Text("reviews[0].id")}";
    }

    // A case and a reading in it that a histotech wrote down.
    private static async Task<string> WithReading(TestClinic at)
    {
        var id = await at.Surgeon.OpenWithLayerAsync();
        return $"{id} {(await at.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id")}";
    }

    private sealed record Row(string[] May, Func<TestClinic, Task<string>> Prepare, Func<Caller, string, Task<Reply>> Act);
}

[Collection<OnSqlite>]
public sealed class RoleTestsOnSqlite(SqliteClinic clinic) : RoleTests(clinic);

[Collection<OnPostgres>]
public sealed class RoleTestsOnPostgres(PostgresClinic clinic) : RoleTests(clinic);
