using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Storage;

/// <summary>The plain tables that a clinic may ask with SQL of its own.</summary>
public sealed class PlainTablesTests(PostgresServer server)
{
    [Theory]
    [InlineData(Engine.Sqlite)]
    [InlineData(Engine.Postgres)]
    public async Task The_command_fills_tables_that_can_be_asked_and_filled_again_and_hold_no_words(Engine engine)
    {
        await using var database = await (await server.Templates.ClinicAsync(engine)).Database.CopyAsync(server);
        await using var program = new Installation(database.Settings);
        string id;
        await using (var host = program.StartHost())
        {
            var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            id = await surgeon.OpenCaseAsync(Some.Case().With("patientRef", "qzNumber"));
            (await surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
            (await surgeon.ReadAsync(id, 1, "A", Some.Tumour("01:00", "02:00").With("note", "qzNote"))).Expect(201);
            await surgeon.AmendAsync(id, 1, "A", Some.Clear());
        }

        foreach (var _ in Enumerable.Range(0, 2))
        {
            var run = await program.RunAsync("tables");
            run.Code.ShouldBe(0, run.Output + run.Errors);
            run.Output.ShouldContain("hold 1 cases");
        }

        (await database.QueryAsync<string>("SELECT state FROM plain_cases")).ShouldBe(["awaitingReadings"]);
        (await database.QueryAsync<long>("SELECT count(*) FROM plain_stages WHERE stage = 1 AND blocks = 2")).ShouldBe([1]);
        (await database.QueryAsync<string>("SELECT block FROM plain_blocks WHERE outcome = 'clear' AND arc_from = '12:00' AND arc_to = '06:00'")).ShouldBe(["A"]);
        (await database.QueryAsync<string>("SELECT outcome FROM plain_readings ORDER BY reading")).ShouldBe(["tumour", "clear"]);
        (await database.QueryAsync<long>("SELECT count(*) FROM plain_readings WHERE counts AND amends_id IS NOT NULL")).ShouldBe([1]);
        foreach (var table in new[] { "plain_cases", "plain_stages", "plain_blocks", "plain_readings" })
        {
            var rows = await database.QueryAsync<string>(engine == Engine.Postgres ? $"SELECT row_to_json(t)::text FROM {table} t" : $"SELECT json_array(t.case_id, {(table == "plain_cases" ? "t.case_number, t.site_code" : "t.stage")}) FROM {table} t");
            rows.Count.ShouldBeGreaterThan(0);
            rows.ShouldAllBe(row => !row.Contains("qz", StringComparison.Ordinal));
        }

        (await program.RunAsync("verify")).Code.ShouldBe(0);
    }
}
