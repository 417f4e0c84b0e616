using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Cases;

/// <summary>A patient is a subject of the record: cases of one number are of one patient.</summary>
public abstract class PatientTests(TestClinic clinic)
{
    [Fact]
    public async Task Cases_of_one_number_are_of_one_patient_however_it_is_capitalised_and_other_numbers_of_others()
    {
        var number = $"pt-{Guid.NewGuid():N}"[..20];
        var first = await OpenAsync(number);
        (await OpenAsync(number)).ShouldBe(first);
        (await OpenAsync(number.ToUpperInvariant())).ShouldBe(first);
        (await OpenAsync($"{number}x")).ShouldNotBe(first);
        (await clinic.Database.QueryAsync<long>($"SELECT count(*) FROM ledger_entries WHERE kind = 'addPatient' AND subject_id = {Literal(first)}")).ShouldBe([1]);
    }

    [Fact]
    public async Task A_number_belongs_to_another_patient_in_another_clinic()
    {
        var number = $"pt-{Guid.NewGuid():N}"[..20];
        var here = await OpenAsync(number);
        var elsewhere = await OtherClinic.SurgeonAsync(clinic);
        (await elsewhere.PostAsync("/api/cases", Some.Case().With("patientRef", number).Without("surgeonEmail"))).Expect(201).Text("patientId").ShouldNotBe(here);
    }

    [Fact]
    public async Task Cases_opened_at_once_for_a_new_number_are_of_one_patient()
    {
        var number = $"pt-{Guid.NewGuid():N}"[..20];
        var patients = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => OpenAsync(number)));
        patients.Distinct().Count().ShouldBe(1);
    }

    private async Task<string> OpenAsync(string number) => (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("patientRef", number))).Expect(201).Text("patientId");

    private string Literal(string id) => clinic.Engine == Engine.Sqlite ? $"'{id.ToUpperInvariant()}'" : $"'{id}'";
}

[Collection<OnSqlite>]
public sealed class PatientTestsOnSqlite(SqliteClinic clinic) : PatientTests(clinic);

[Collection<OnPostgres>]
public sealed class PatientTestsOnPostgres(PostgresClinic clinic) : PatientTests(clinic);
