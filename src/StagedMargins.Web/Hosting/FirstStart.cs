using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Hosting;

/// <summary>What an empty record needs before anyone can sign in.</summary>
public static class FirstStart
{
    /// <summary>
    /// Prints, where nobody is known yet, a new one-time code for the first administrator; earlier ones no longer work. It is
    /// said on the console and kept out of the log.
    /// </summary>
    public static async Task PrepareAsync(IServiceProvider services, TextWriter output)
    {
        await using var scope = services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        if (await db.Users.AnyAsync())
        {
            return;
        }

        await db.ClinicCodes.ExecuteDeleteAsync();
        var code = await NewCodeAsync(scope.ServiceProvider);
        await output.WriteLineAsync($"Nobody can sign in yet. One-time code for the first administrator: {code}   (POST /api/auth/first-administrator; to try the program instead, start with --demo)");
    }

    /// <summary>Makes a one-time code with which a clinic and its administrator are made.</summary>
    public static async Task<string> NewCodeAsync(IServiceProvider services)
    {
        var db = services.GetRequiredService<ClinicContext>();
        var code = OneTimeCode.New();
        db.Add(new ClinicCode { Hash = OneTimeCode.HashOf(code), MadeUtc = ClinicalTime.From(services.GetRequiredService<TimeProvider>().GetUtcNow()).Utc });
        await db.SaveChangesAsync();
        return code;
    }

    /// <summary>Makes the roles where they are missing.</summary>
    public static async Task MakeRolesAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var roles = scope.ServiceProvider.GetRequiredService<RoleManager<IdentityRole<Guid>>>();
        foreach (var role in Roles.All)
        {
            if (!await roles.RoleExistsAsync(role))
            {
                await roles.CreateAsync(new IdentityRole<Guid>(role) { Id = Guid.CreateVersion7() });
            }
        }
    }
}
