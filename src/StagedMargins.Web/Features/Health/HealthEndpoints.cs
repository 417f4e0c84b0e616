using Microsoft.AspNetCore.Diagnostics.HealthChecks;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using StagedMargins.Storage;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Features.Health;

/// <summary>Whether the service lives, and whether it can work.</summary>
public static class HealthEndpoints
{
    /// <summary>Adds the checks.</summary>
    public static void AddHealth(this IServiceCollection services) =>
        services.AddHealthChecks().AddCheck<DatabaseCheck>("database", tags: ["ready"]).AddCheck<NightlyCheck>("ledger", tags: ["ready"]);

    /// <summary>Adds the routes.</summary>
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        routes.MapHealthChecks("/health/live", new HealthCheckOptions { Predicate = _ => false }).AllowAnonymous();
        routes.MapHealthChecks("/health/ready", new HealthCheckOptions { Predicate = check => check.Tags.Contains("ready") }).AllowAnonymous();
    }

    private sealed class DatabaseCheck(ClinicContext db) : IHealthCheck
    {
        public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default) =>
            await db.Database.CanConnectAsync(cancellationToken) ? HealthCheckResult.Healthy() : HealthCheckResult.Unhealthy();
    }
}
