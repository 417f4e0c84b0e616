using StagedMargins.Web.Backup;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Backups;

/// <summary>Backups taken while the service runs. They go to the operator's folder and are never sent.</summary>
public static class BackupEndpoints
{
    /// <summary>Adds what takes a backup, for the task of the program too.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="isService">True for the service; a task names its file itself and does not look at the folder.</param>
    /// <exception cref="StartFailureException">The folder or the key file of the settings can't be used.</exception>
    public static void AddBackups(this IServiceCollection services, IConfiguration settings, bool isService)
    {
        services.AddSingleton<RecordBackup>();
        if (!isService)
        {
            return;
        }

        if (BackupFolder.FromSettings(settings) is { } folder)
        {
            services.AddSingleton(folder);
        }

        services.AddSingleton<BackupRun>();
        services.AddHostedService(provider => provider.GetRequiredService<BackupRun>());
    }

    /// <summary>Adds the routes.</summary>
    public static void MapBackups(this IEndpointRouteBuilder routes)
    {
        var backups = routes.MapGroup("/api/backups").WithTags("Backups").RequireAuthorization(Policies.Administrator);
        backups.MapGet("", (BackupRun run) => Results.Ok(run.State()))
            .WithSummary("The state of backups: the one in progress, the last one, and the newest in the folder. Names and sizes only; no backup is sent.").Produces<BackupState>();
        backups.MapPost("", Begin)
            .WithSummary("Starts a backup of the whole record to the folder set by the operator; 409 if no folder is set or a backup is in progress.")
            .Produces<BackupState>(StatusCodes.Status202Accepted);
    }

    private static IResult Begin(CurrentPerson person, BackupRun run)
    {
        run.Begin(person.Id);
        return Results.Accepted("/api/backups", run.State());
    }
}
