using System.Text.Json.Nodes;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Web.Commands;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>A case goes from one clinic to another and is the same case there, or does not go at all.</summary>
public abstract class ImportTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task The_worked_example_is_the_same_case_in_another_clinic()
    {
        var id = await Surgeon.PlayWorkedExampleAsync(clinic.Histotech);
        var bundle = await Surgeon.BundleOfAsync(id);
        var there = await OtherClinic.SurgeonAsync(clinic);
        var imported = (await there.ImportAsync(bundle)).Expect(201);
        imported.Text("id").ShouldBe(id);
        imported.Header("Location").ShouldBe($"/api/cases/{id}");
        imported.At("accountsMade")!.AsArray().Select(made => made!.GetValue<string>()).Order().ShouldBe([TestClinic.HistotechEmail, TestClinic.SurgeonEmail]);
        await CaseComparison.ShouldBeAsync(Surgeon, there, id);

        // Other tests spoil cases of this clinic on purpose; this one is none of them.
        using var said = new StringWriter();
        await VerifyCommand.RunAsync(clinic.Host.Services, said);
        said.ToString().ShouldContain("cases checked");
        said.ToString().ShouldNotContain($"case {(await Surgeon.CaseAsync(id)).Text("caseNumber")},");
    }

    [Fact]
    public async Task Everything_around_the_loop_comes_over_too()
    {
        var id = await Surgeon.OpenClearAsync();
        await clinic.CareForAsync(id);
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("C", "01:00", "02:00"))).Expect(201);
        var written = (await clinic.Histotech.ReadAsync(id, 1, "C", Some.Clear().With("note", "thin, \"folded\" edge; ünläut"))).Expect(201).Text("id");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{written}/countersign", null)).Expect(200);
        await Surgeon.SettleAsync(id, "A");
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 30, "widthMm": 10 }"""))).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00").With("amends", (await Surgeon.CaseAsync(id)).Text("stages[0].blocks[1].readings[0].id")).With("reason", "second look"))).Expect(201);
        var there = await OtherClinic.SurgeonAsync(clinic);
        (await there.ImportAsync(await Surgeon.BundleOfAsync(id))).Expect(201);
        await CaseComparison.ShouldBeAsync(Surgeon, there, id);
        (await there.CaseAsync(id)).At("recall").ShouldBeJson("true");
    }

    [Fact]
    public async Task The_photos_of_the_site_come_over_and_no_other_picture_in_their_place()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(640, 400));
        await clinic.Histotech.AddSitePhotoAsync(id, CameraFile.Jpeg(320, 200));
        var bundle = await Surgeon.BundleOfAsync(id);
        var there = await OtherClinic.SurgeonAsync(clinic);
        foreach (var other in new[] { CameraFile.Jpeg(640, 400), (await Surgeon.SitePhotoAsync(id, 2)), [.. await Surgeon.SitePhotoAsync(id, 1), 0] })
        {
            var record = Bundles.RecordIn(bundle);
            record["entries"]![1]!["photo"] = Convert.ToBase64String(other);
            (await there.ImportAsync(Bundles.Of(record))).ExpectProblem(400, "entries[1].photo");
        }

        (await there.ImportAsync(bundle)).Expect(201);
        await CaseComparison.ShouldBeAsync(Surgeon, there, id);
        foreach (var number in new[] { 1, 2 })
        {
            (await there.SitePhotoAsync(id, number)).ShouldBe(await Surgeon.SitePhotoAsync(id, number));
        }
    }

    [Fact]
    public async Task A_case_exported_again_and_taken_further_is_still_the_same_case()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var (second, third) = (await OtherClinic.SurgeonAsync(clinic), await OtherClinic.SurgeonAsync(clinic));
        (await second.ImportAsync(await Surgeon.BundleOfAsync(id))).Expect(201);
        (await third.ImportAsync(await second.BundleOfAsync(id))).Expect(201);
        await CaseComparison.ShouldBeAsync(second, third, id);
        (await third.GetAsync($"/api/cases/{id}/history")).Expect(200).Json["entries"]!.AsArray().Select(entry => entry!["what"]!.GetValue<string>())
            .ShouldBe(["openCase", "recordLayer", "importCase", "importCase"]);
    }

    [Fact]
    public async Task The_overlap_of_the_day_does_not_change_what_was_said_of_a_layer()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        (await Surgeon.RecordAsync(id, Some.Rim("07:15", "09:15").With("reasonForUnread", "the patient is tired"))).Expect(201);
        (await clinic.Administrator.PostAsync("/api/clinic", new JsonObject { ["overlapMinutes"] = 30 })).Expect(200);
        var bundle = await Surgeon.BundleOfAsync(id);
        (await clinic.Administrator.PostAsync("/api/clinic", new JsonObject { ["overlapMinutes"] = 15 })).Expect(200);
        var there = await OtherClinic.SurgeonAsync(clinic);
        (await there.ImportAsync(bundle)).Expect(201);
        await CaseComparison.ShouldBeAsync(Surgeon, there, id);
    }

    [Fact]
    public async Task A_case_that_is_here_is_not_taken_over_again()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var refused = (await Surgeon.ImportAsync(await Surgeon.BundleOfAsync(id))).ExpectProblem(409);
        refused.Text("detail").ShouldContain($"/api/cases/{id}");
    }

    [Fact]
    public async Task The_same_key_imports_once_and_a_number_that_is_taken_can_be_chosen_anew()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var bundle = await Surgeon.BundleOfAsync(id);
        var there = await OtherClinic.SurgeonAsync(clinic);
        (await there.PostAsync("/api/cases", Some.Case().Without("surgeonEmail").With("caseNumber", (await Surgeon.CaseAsync(id)).Text("caseNumber")))).Expect(201);
        (await there.ImportAsync(bundle)).ExpectProblem(409).Text("detail").ShouldContain("already in use");
        var path = "/api/cases/import?caseNumber=FROM-1";
        var first = (await there.PostTextAsync(path, bundle, ("Idempotency-Key", $"i-{id}"))).Expect(201);
        first.Text("caseNumber").ShouldBe("FROM-1");
        var again = (await there.PostTextAsync(path, bundle, ("Idempotency-Key", $"i-{id}"))).Expect(201);
        again.Body.ShouldBe(first.Body);
        again.Header("Idempotency-Replayed").ShouldBe("true");
        (await there.CaseAsync(id)).Text("caseNumber").ShouldBe("FROM-1");
    }

    [Fact]
    public async Task Who_is_known_here_is_the_author_and_who_is_not_cannot_sign_in()
    {
        var id = await Surgeon.OpenClearAsync();
        var there = await OtherClinic.AdministratorAsync(clinic);
        var surgeon = await TestClinic.AddAsync(there, clinic.Stranger, $"k{Guid.NewGuid():N}@other.invalid", "surgeon");
        (await surgeon.ImportAsync(await Surgeon.BundleOfAsync(id))).Expect(201);
        var account = (await there.GetAsync("/api/people")).Expect(200).Json.AsArray().Single(one => one!["email"]!.GetValue<string>() == TestClinic.SurgeonEmail)!;
        account["disabled"].ShouldBeJson("true");
        account["roles"].ShouldBeJson("[]");
        (await clinic.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password)).Token.ShouldNotBeNull();
        (await surgeon.CaseAsync(id)).Text("stages[0].blocks[0].readings[0].readerEmail").ShouldBe(TestClinic.SurgeonEmail);

        // Back home every author is known.
        await using var database = await clinic.Server.Templates.MigratedAsync(clinic.Engine);
        await using var host = ServiceHost.Start(database);
        var administrator = await TestClinic.FoundAsync(host, TestClinic.AdministratorEmail, "The same clinic elsewhere");
        var back = await TestClinic.AddAsync(administrator, host.Stranger(), TestClinic.SurgeonEmail, "surgeon");
        var imported = (await back.ImportAsync(await surgeon.BundleOfAsync(id))).Expect(201);
        imported.At("accountsMade")!.AsArray().Count.ShouldBe(1);
        (await back.EndAsync(id, Some.EndCleared())).Expect(200);
    }

    [Fact]
    public async Task Risk_assessed_by_earlier_rules_is_kept_as_it_was_assessed()
    {
        var id = await Surgeon.OpenClearAsync();
        var record = Bundles.RecordIn(await Surgeon.BundleOfAsync(id));
        record.With("entries[0].content.risk.ruleVersion", "2026.1").With("entries[0].content.risk.ajcc8.t", "T2");
        var there = await OtherClinic.SurgeonAsync(clinic);
        (await there.ImportAsync(Bundles.Of(record))).Expect(201);
        var kept = (await there.GetAsync($"/api/cases/{id}/risk/assessments")).Expect(200);
        (kept.Text("[0].risk.ruleVersion"), kept.Text("[0].risk.ajcc8.t")).ShouldBe(("2026.1", "T2"));
        (await there.GetAsync($"/api/cases/{id}/risk")).Expect(200).Text("ruleVersion").ShouldNotBe("2026.1");
    }

    [Theory]
    [InlineData("entries[1].what", "\"eraseLayer\"", 400)]
    [InlineData("entries[1].at", "\"2199-01-01T00:00:00Z\"", 400)]
    [InlineData("entries[1].sequence", "7", 400)]
    [InlineData("entries[1].content.alerts", "[]", 400)]
    [InlineData("entries[1].content.pieces[0].kind", "\"rim\"", 400)]
    [InlineData("entries[1].content.unheardOf", "1", 400)]
    [InlineData("entries[1].content", "null", 400)]
    [InlineData("entries[1].by", "\"00000000-0000-0000-0000-000000000001\"", 400)]
    [InlineData("entries[0].content.risk", "null", 400)]
    [InlineData("entries[0].content.risk.ruleVersion", "\"1999.1\"", 400)]
    [InlineData("entries[0].what", "\"recordLayer\"", 400)]
    [InlineData("entries[2].content.id", "null", 400)]
    [InlineData("entries[2].content.findings", "null", 400)]
    [InlineData("entries[2].content.stage", "9", 400)]
    [InlineData("entries[2].content.findings", """[{ "kind": "tumour", "margin": "peripheral", "arc": "07:30-09:00", "centre": false }]""", 400)]
    [InlineData("entries[3].content.block", "\"A\"", 409)]
    [InlineData("entries[4].content.outcome", "null", 400)]
    [InlineData("entries[3].content.outcome", "\"unreadable\"", 409)]
    [InlineData("format", "\"another\"", 400)]
    [InlineData("caseNumber", "\"=1+1\"", 400)]
    [InlineData("people", "[]", 400)]
    [InlineData("entries", "[]", 400)]
    public async Task A_record_that_could_not_have_been_entered_is_refused_whole_and_names_the_entry(string path, string value, int status)
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        var record = Bundles.RecordIn(await Surgeon.BundleOfAsync(id));
        record.With(path, JsonNode.Parse(value));
        var there = await OtherClinic.SurgeonAsync(clinic);
        var before = await clinic.Database.WrittenAsync();
        var refused = (await there.ImportAsync(Bundles.Of(record))).ExpectProblem(status);
        if (path.StartsWith("entries[", StringComparison.Ordinal))
        {
            refused.Text("detail").ShouldMatch(@"entries\[\d\]|Entry \d");
        }

        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    [Fact]
    public async Task Two_readings_can_t_have_one_number()
    {
        var record = Bundles.RecordIn(await Surgeon.BundleOfAsync(await Surgeon.OpenClearAsync()));
        record.With("entries[3].content.id", record.At("entries[2].content.id")!.DeepClone());
        var there = await OtherClinic.SurgeonAsync(clinic);
        (await there.ImportAsync(Bundles.Of(record))).ExpectProblem(409).Text("detail").ShouldStartWith("Entry 4");
    }

    [Fact]
    public async Task A_file_can_t_make_a_histotech_here_the_surgeon_of_a_case()
    {
        var id = await Surgeon.OpenClearAsync();
        var there = await OtherClinic.AdministratorAsync(clinic);
        var email = $"h{Guid.NewGuid():N}@other.invalid";
        await TestClinic.AddAsync(there, clinic.Stranger, email, "histotech");
        var surgeon = await TestClinic.AddAsync(there, clinic.Stranger, $"k{Guid.NewGuid():N}@other.invalid", "surgeon");
        var bundle = Bundles.Of(Some.Json(Bundles.RecordIn(await Surgeon.BundleOfAsync(id)).ToJsonString().Replace(TestClinic.SurgeonEmail, email, StringComparison.Ordinal)));
        (await surgeon.ImportAsync(bundle)).Expect(201).At("accountsMade")!.AsArray().Select(made => made!.GetValue<string>()).ShouldBe([email]);
        (await there.GetAsync("/api/people")).Expect(200).Json.AsArray().Count(one => one!["email"]!.GetValue<string>() == email).ShouldBe(2);
    }

    [Fact]
    public async Task Another_system_imports_nothing()
    {
        var token = (await clinic.Administrator.PostAsync("/api/tokens", Some.Json("""{ "name": "Archive", "roles": ["surgeon"] }"""))).Expect(201).Text("token");
        var bundle = await Surgeon.BundleOfAsync(await Surgeon.OpenWithLayerAsync());
        (await clinic.Stranger.With(token).ImportAsync(bundle)).ExpectProblem(403);
    }

    [Fact]
    public async Task What_another_system_entered_comes_over_under_its_name()
    {
        var token = (await clinic.Administrator.PostAsync("/api/tokens", Some.Json("""{ "name": "Bench scanner", "roles": ["histotech"] }"""))).Expect(201).Text("token");
        var id = await clinic.Stranger.With(token).OpenWithLayerAsync();
        var there = await OtherClinic.SurgeonAsync(clinic);
        (await there.ImportAsync(await Surgeon.BundleOfAsync(id))).Expect(201);
        await CaseComparison.ShouldBeAsync(Surgeon, there, id);
        (await there.CaseAsync(id)).Text("openedBy").ShouldBe("Bench scanner");
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{")]
    [InlineData("""{ "resourceType": "Bundle", "entry": [ null, { "resource": null } ] }""")]
    [InlineData("""{ "resourceType": "Bundle", "entry": [ { "resource": { "resourceType": "Binary", "contentType": "application/json", "data": "bnVsbA==" } } ] }""")]
    [InlineData("""{ "resourceType": "Bundle", "entry": [ { "resource": { "resourceType": "Binary", "contentType": "application/json", "data": "not base64" } } ] }""")]
    [InlineData("""{ "resourceType": "Patient" }""")]
    public async Task What_is_no_bundle_of_this_program_is_refused(string body) =>
        (await Surgeon.PostTextAsync("/api/cases/import", body)).ExpectProblem(400);

    [Fact]
    public async Task A_bundle_may_be_larger_than_other_bodies()
    {
        var padded = new string(' ', 2 * 1024 * 1024) + "{}";
        (await Surgeon.PostTextAsync("/api/cases/import", padded)).ExpectProblem(400);
    }
}

// A clinic of their own, because they take long: tests that share one run one after another.
public sealed class ImportTestsOnSqlite(SqliteClinic clinic) : ImportTests(clinic), IClassFixture<SqliteClinic>;

public sealed class ImportTestsOnPostgres(PostgresClinic clinic) : ImportTests(clinic), IClassFixture<PostgresClinic>;
