using StagedMargins.Web.Tests.Features.Exchange;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Demo;

/// <summary>The invented cases are cases like any other: another clinic can take them over.</summary>
[Collection<WithDemo>]
public sealed class DemoExchangeTests(RunningDemo demo, PostgresServer server)
{
    [Fact]
    public async Task Cases_of_the_demonstration_are_the_same_cases_elsewhere()
    {
        var there = await (await demo.Process.StrangerAsync()).SignInAsync("surgeon@demo.invalid", demo.Password);
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database);
        var administrator = await TestClinic.FoundAsync(host, TestClinic.AdministratorEmail, "Clinic of the tests");
        var here = await TestClinic.AddAsync(administrator, host.Stranger(), TestClinic.SurgeonEmail, "surgeon");
        var cases = (await there.GetAsync("/api/cases?limit=200")).Expect(200).At("items")!.AsArray();
        foreach (var id in cases.Select(item => item!["id"]!.GetValue<string>()).Where((_, i) => i % 12 == 0))
        {
            (await here.ImportAsync(await there.BundleOfAsync(id))).Expect(201);
            await CaseComparison.ShouldBeAsync(there, here, id);
        }
    }
}
