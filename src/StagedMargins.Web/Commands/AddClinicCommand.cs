using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Commands;

/// <summary><c>add-clinic</c>: prints a one-time code with which a further clinic of the same record gets its administrator.</summary>
internal static class AddClinicCommand
{
    /// <summary>Runs it.</summary>
    /// <returns>0.</returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        await using var turn = await StartupLock.TakeAsync(services);
        await Database.MigrateAsync(services);
        await FirstStart.MakeRolesAsync(services);
        await using var scope = services.CreateAsyncScope();
        var code = await FirstStart.NewCodeAsync(scope.ServiceProvider);
        await output.WriteLineAsync($"One-time code for the administrator of a new clinic: {code}   (POST /api/auth/first-administrator)");
        return 0;
    }
}
