using StagedMargins.Web.Tests.Features.Exchange;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Demo;

/// <summary>The invented cases are cases like any other: another clinic can take them over.</summary>
public sealed class DemoExchangeTests(PostgresServer server) : IDisposable
{
    private const string Password = "demonstration pass phrase";

    private readonly TempFolder home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task Cases_of_the_demonstration_are_the_same_cases_elsewhere()
    {
        await using var demo = ServiceProcess.Start(home.Path, new Dictionary<string, string> { ["STAGEDMARGINS_DEMO_PASSWORD"] = Password }, "--demo", "--urls", "http://127.0.0.1:0");
        var there = await (await demo.StrangerAsync()).SignInAsync("surgeon@demo.invalid", Password);
        await using var database = await TestDatabase.FreshAsync(Engine.Sqlite, server);
        await using var host = ServiceHost.Start(database);
        var administrator = await TestClinic.FoundAsync(host, TestClinic.AdministratorEmail, "Clinic of the tests");
        var here = await TestClinic.AddAsync(administrator, host.Stranger(), TestClinic.SurgeonEmail, "surgeon");
        var cases = (await there.GetAsync("/api/cases?limit=200")).Expect(200).At("items")!.AsArray();
        foreach (var id in cases.Select(item => item!["id"]!.GetValue<string>()).Where((_, i) => i % 12 == 0))
        {
            (await here.ImportAsync(await there.BundleOfAsync(id))).Expect(201);
            await SameCase.ShouldBeAsync(there, here, id);
        }
    }
}
