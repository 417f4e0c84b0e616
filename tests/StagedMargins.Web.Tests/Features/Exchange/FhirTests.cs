using System.Security.Cryptography;
using Hl7.Fhir.Model;
using StagedMargins.Web.Tests.Testing;
using Task = System.Threading.Tasks.Task;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>The case as a bundle of HL7 FHIR R4 (4.0.1), checked against HL7's own definitions.</summary>
public abstract class FhirTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task The_worked_example_is_told_in_valid_resources()
    {
        var id = await Surgeon.PlayWorkedExampleAsync(clinic.Histotech);
        var reply = (await Surgeon.GetAsync($"/api/cases/{id}/fhir")).Expect(200);
        reply.MediaType.ShouldBe("application/fhir+json");
        var bundle = FhirCheck.Valid(reply.Body);
        bundle.Type.ShouldBe(Bundle.BundleType.Collection);
        bundle.Loose().ShouldBeEmpty();
        bundle.All<Procedure>().Count.ShouldBe(4);
        bundle.All<Specimen>().Count.ShouldBe(3 + 4);
        bundle.All<Specimen>().Count(specimen => specimen.Parent.Count == 1).ShouldBe(4);
        var patient = bundle.All<Patient>().ShouldHaveSingleItem();
        patient.Name.ShouldBeEmpty();
        patient.Identifier.ShouldHaveSingleItem().Value.ShouldBe((await Surgeon.CaseAsync(id)).Text("patientRef"));
        var site = bundle.All<BodyStructure>().ShouldHaveSingleItem();
        site.Location!.Coding.ShouldHaveSingleItem().Code.ShouldBe("C44.3");
        site.Location!.Coding[0].System.ShouldBe("http://terminology.hl7.org/CodeSystem/icd-o-3");
        site.LocationQualifier.ShouldHaveSingleItem().Text.ShouldBe("left");
        bundle.All<Procedure>()[1].Performed.ShouldBeOfType<FhirDateTime>().Value.ShouldBe("2026-03-03T09:10:00-05:00");
        bundle.All<Procedure>()[0].Identifier.ShouldHaveSingleItem().Value.ShouldBe((await Surgeon.CaseAsync(id)).Text("caseNumber"));
    }

    [Fact]
    public async Task A_finding_is_told_as_its_arc_and_in_degrees()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        var tumour = (await BundleAsync(id)).All<Observation>()[0];
        tumour.Component.Select(part => part.Code.Text).ShouldBe(
            ["tumour at the peripheral margin: place on the clock face", "tumour at the peripheral margin: degrees clockwise from 12 o'clock"]);
        tumour.Component[0].Value.ShouldBeOfType<FhirString>().Value.ShouldBe("7:30–9:00 o'clock");

        // 30° an hour: 7½ hours are 225°, 9 hours 270°.
        var degrees = tumour.Component[1].Value.ShouldBeOfType<Hl7.Fhir.Model.Range>();
        (degrees.Low!.Value, degrees.High!.Value, degrees.Low.Code, degrees.Low.System).ShouldBe((225m, 270m, "deg", "http://unitsofmeasure.org"));
    }

    [Fact]
    public async Task The_conclusion_never_says_clear_of_what_is_not()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await ReportAsync(id)).Conclusion.ShouldBe("Margins after stage 1: awaiting readings. Not clear: unread at the peripheral margin, all around; unread at the deep margin, all around and the centre. The case is open.");
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        var open = await ReportAsync(id);
        open.Conclusion.ShouldBe("Margins after stage 1: tumour outstanding. Not clear: tumour outstanding at the peripheral margin, 7:30 to 9 o'clock. The case is open.");
        open.Status.ShouldBe(DiagnosticReport.DiagnosticReportStatus.Preliminary);
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "stoppedWithTumour", "endedAt": "2026-03-03T12:00:00-05:00", "reason": "unwell", "plan": "another day" }"""))).Expect(200);
        var stopped = await ReportAsync(id);
        stopped.Status.ShouldBe(DiagnosticReport.DiagnosticReportStatus.Final);
        stopped.Conclusion!.ShouldContain("Not clear: tumour outstanding at the peripheral margin, 7:30 to 9 o'clock");
    }

    [Fact]
    public async Task After_a_recall_nothing_is_told_as_cleared()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        (await ReportAsync(id)).Conclusion.ShouldStartWith("Margins after stage 1: cleared.");
        var counting = (await Surgeon.CaseAsync(id)).Text("stages[0].blocks[1].readings[0].id");
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00").With("amends", counting).With("reason", "second look"))).Expect(201);
        var bundle = await BundleAsync(id);
        var report = bundle.All<DiagnosticReport>().ShouldHaveSingleItem();
        report.Status.ShouldBe(DiagnosticReport.DiagnosticReportStatus.Amended);
        report.Conclusion.ShouldStartWith("Recall:");
        report.Conclusion!.ShouldContain("Not clear: tumour outstanding at the peripheral margin, 7:30 to 9 o'clock");
        report.Conclusion.ShouldEndWith("Closed as clear; not clear now.");
        bundle.All<Procedure>()[0].Outcome!.Text!.ShouldContain("the margins are not clear now");
        var (former, amending) = (bundle.All<Observation>()[1], bundle.All<Observation>()[2]);
        former.Status.ShouldBe(ObservationStatus.EnteredInError);
        amending.Status.ShouldBe(ObservationStatus.Amended);
        amending.DerivedFrom.ShouldHaveSingleItem().Reference.ShouldBe($"urn:uuid:{former.Id}");
        report.Result.ShouldNotContain(result => result.Reference == $"urn:uuid:{former.Id}");
    }

    [Fact]
    public async Task A_reading_that_waits_for_its_signature_is_preliminary()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var bundle = await BundleAsync(id);
        bundle.All<Observation>()[0].Status.ShouldBe(ObservationStatus.Preliminary);
        bundle.All<DiagnosticReport>()[0].Conclusion!.ShouldContain("To be countersigned: stage 1 block A.");
    }

    [Fact]
    public async Task The_map_comes_with_its_size_and_hash_and_the_defect_in_millimetres()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 15, "widthMm": 10, "plane": "subcutaneousFat" }"""))).Expect(200);
        var bundle = await BundleAsync(id);
        var map = bundle.All<DiagnosticReport>()[0].PresentedForm.ShouldHaveSingleItem();
        map.ContentType.ShouldBe("image/png");
        map.Data![1..4].ShouldBe("PNG"u8.ToArray());
        map.SizeUnsignedInt.ShouldBe(map.Data.Length);
#pragma warning disable CA5350 // HL7 FHIR R4, datatype Attachment: "Hash of the data (sha-1, base64ed)".
        map.Hash.ShouldBe(SHA1.HashData(map.Data));
#pragma warning restore CA5350
        var (computed, measured) = (bundle.All<Observation>()[^2], bundle.All<Observation>()[^1]);

        // Closed form of an ellipse 14 × 10 mm: π·14·10/4 = 109.956 mm².
        var area = computed.Component.Single(part => part.Code.Text == "Area").Value.ShouldBeOfType<Quantity>();
        ((double)area.Value!.Value).ShouldBe(Math.PI * 35, 0.005 * 110);
        area.Code.ShouldBe("mm2");
        measured.Component[0].Value.ShouldBeOfType<Quantity>().Value.ShouldBe(15m);
        measured.Component[2].Value.ShouldBeOfType<CodeableConcept>().Text.ShouldBe("subcutaneous fat");
    }

    [Fact]
    public async Task Two_exports_of_the_same_case_are_the_same_bytes()
    {
        var id = await Surgeon.OpenClearAsync();
        await clinic.CareForAsync(id);
        var first = (await Surgeon.GetAsync($"/api/cases/{id}/fhir")).Expect(200);
        (await clinic.Histotech.GetAsync($"/api/cases/{id}/fhir")).Expect(200).Body.ShouldBe(first.Body);
        (await Surgeon.GetAsync($"/api/cases/{id}/fhir", ("If-None-Match", first.Header("ETag")!))).Status.ShouldBe(304);
        FhirCheck.Valid(first.Body).Loose().ShouldBeEmpty();
    }

    [Fact]
    public async Task Who_is_still_to_read_blind_gets_no_bundle_and_an_export_is_logged_as_an_opening()
    {
        var id = await Surgeon.OpenClearAsync();
        await clinic.AskSecondReadAsync(id);
        (await clinic.OtherSurgeon.GetAsync($"/api/cases/{id}/fhir")).ExpectProblem(409);
        (await Surgeon.GetAsync($"/api/cases/{id}/fhir")).Expect(200);
        (await Surgeon.GetAsync($"/api/cases/{id}/openings")).Expect(200).At("items")!.AsArray().Select(opened => opened!["what"]!.GetValue<string>()).ShouldContain("fhir");
    }

    [Fact]
    public async Task The_check_itself_finds_what_is_wrong()
    {
        var bundle = (await Surgeon.GetAsync($"/api/cases/{await clinic.HalfReadCaseAsync()}/fhir")).Expect(200).Json;
        var whole = bundle["entry"]!.AsArray().Select(part => part!["resource"]!.AsObject()).First(resource => resource["resourceType"]!.GetValue<string>() == "Procedure");

        // HL7 FHIR R4, datatype Period, constraint per-1: the start is not after the end.
        whole["performedPeriod"]!["end"] = "2000-01-01";
        Should.Throw<ShouldAssertException>(() => FhirCheck.Valid(bundle.ToJsonString())).Message.ShouldContain("per-1");
    }

    private async Task<Bundle> BundleAsync(string id) => FhirCheck.Valid((await Surgeon.GetAsync($"/api/cases/{id}/fhir")).Expect(200).Body);

    private async Task<DiagnosticReport> ReportAsync(string id) => (await BundleAsync(id)).All<DiagnosticReport>().ShouldHaveSingleItem();
}

[Collection<OnSqlite>]
public sealed class FhirTestsOnSqlite(SqliteClinic clinic) : FhirTests(clinic);

[Collection<OnPostgres>]
public sealed class FhirTestsOnPostgres(PostgresClinic clinic) : FhirTests(clinic);
