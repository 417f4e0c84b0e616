using StagedMargins.Core.CountingUnits;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.CountingUnits;

/// <summary>The clinic's own codes beside its counting units, as they are sent.</summary>
public abstract class CodeTableTests(TestClinic clinic) : IAsyncLifetime
{
    private readonly TempFolder folder = new();
    private ServiceHost host = null!;
    private Caller manager = null!;
    private string file = "";
    private string number = "";

    public async ValueTask InitializeAsync()
    {
        host = ServiceHost.Start(clinic.Database, null, ("CountingUnits:Folder", folder.Path));
        manager = await host.Stranger().SignInAsync(TestClinic.ManagerEmail, TestClinic.Password);
        await using var db = clinic.Database.NewContext();
        file = Path.Combine(folder.Path, $"{db.Users.Single(person => person.Email == TestClinic.ManagerEmail).ClinicId:D}.csv");
        var id = await clinic.Surgeon.OpenClearAsync();
        (await clinic.Surgeon.EndAsync(id, Some.EndCleared().With("endedAt", "2018-05-11T12:00:00-03:00"))).Expect(200);
        number = (await clinic.Surgeon.CaseAsync(id)).Text("caseNumber");
    }

    public async ValueTask DisposeAsync()
    {
        await host.DisposeAsync();
        folder.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task A_code_and_its_price_stand_in_the_CSV_as_the_clinic_gave_them_and_never_as_a_formula()
    {
        await WriteAsync("headNeckHandsFeetGenitalia,firstStage,=X-1,100.50");
        (await manager.GetAsync("/api/counting-units/months/2018-05")).Expect(200).Body.ShouldContain("\"code\":\"=X-1\",\"price\":100.50");
        var csv = (await manager.GetAsync("/api/counting-units/months/2018-05.csv")).Expect(200);
        csv.MediaType.ShouldBe("text/csv");
        csv.Header("Content-Disposition").ShouldNotBeNull().ShouldContain("counting-units-2018-05.csv");
        csv.Body.ShouldStartWith("caseNumber,regionGroup,unit,count,code,price\r\n");
        csv.Body.ShouldContain($"{number},headNeckHandsFeetGenitalia,firstStage,1,\"'=X-1\",100.50\r\n");
    }

    [Fact]
    public async Task A_changed_file_holds_at_once_and_one_that_can_t_be_read_is_refused_with_its_line()
    {
        await WriteAsync("headNeckHandsFeetGenitalia,firstStage,X-1,");
        (await manager.GetAsync("/api/counting-units/months/2018-05.csv")).Expect(200).Body.ShouldContain("firstStage,1,X-1,\r\n");
        await WriteAsync("headNeckHandsFeetGenitalia,firstStage,X-1,a hundred");
        foreach (var path in new[] { "/api/counting-units/months/2018-05", "/api/counting-units/months/2018-05.csv" })
        {
            (await manager.GetAsync(path)).ExpectProblem(409).Text("detail").ShouldContain("Line 2: a price must be a number");
        }

        await WriteAsync("headNeckHandsFeetGenitalia,firstStage,X-9,");
        (await manager.GetAsync("/api/counting-units/months/2018-05.csv")).Expect(200).Body.ShouldContain("firstStage,1,X-9,\r\n");
    }

    [Fact]
    public async Task The_example_that_is_shown_is_a_table_that_is_taken()
    {
        await File.WriteAllTextAsync(file, CodeTable.Example, TestContext.Current.CancellationToken);
        (await manager.GetAsync("/api/counting-units/months/2018-05.csv")).Expect(200).Body.ShouldContain("firstStage,1,X-1,100.00\r\n");
    }

    private Task WriteAsync(string line) =>
        File.WriteAllTextAsync(file, $"regionGroup,unit,code,price\n{line}\n", TestContext.Current.CancellationToken);
}

[Collection<OnSqlite>]
public sealed class CodeTableTestsOnSqlite(SqliteClinic clinic) : CodeTableTests(clinic);

[Collection<OnPostgres>]
public sealed class CodeTableTestsOnPostgres(PostgresClinic clinic) : CodeTableTests(clinic);
