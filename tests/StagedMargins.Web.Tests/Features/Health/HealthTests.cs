using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Health;

public abstract class HealthTests(TestClinic clinic)
{
    [Theory]
    [InlineData("/health/live")]
    [InlineData("/health/ready")]
    public async Task A_running_service_is_live_and_ready(string path) => (await clinic.Stranger.GetAsync(path)).Expect(200).Body.ShouldBe("Healthy");
}

[Collection<OnSqlite>]
public sealed class HealthTestsOnSqlite(SqliteClinic clinic) : HealthTests(clinic);

[Collection<OnPostgres>]
public sealed class HealthTestsOnPostgres(PostgresClinic clinic) : HealthTests(clinic);
