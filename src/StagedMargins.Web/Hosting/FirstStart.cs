using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Hosting;

/// <summary>What an empty record needs before anyone can sign in.</summary>
public static class FirstStart
{
    /// <summary>
    /// Makes, where nobody is known yet, a clinic with the administrator that the settings
    /// <c>FirstAdministrator:Email</c> and <c>FirstAdministrator:Password</c> name.
    /// </summary>
    /// <exception cref="StartFailureException">The settings name an administrator who can't be made.</exception>
    public static async Task PrepareAsync(WebApplication app)
    {
        await using var scope = app.Services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        if (await db.Users.AnyAsync())
        {
            return;
        }

        var (email, password) = (app.Configuration["FirstAdministrator:Email"], app.Configuration["FirstAdministrator:Password"]);
        if (string.IsNullOrEmpty(email) || string.IsNullOrEmpty(password))
        {
            app.Logger.LogWarning("Nobody can sign in yet. Start once with FirstAdministrator__Email and FirstAdministrator__Password set, or look around with --demo.");
            return;
        }

        await using var transaction = await db.Database.BeginTransactionAsync();
        var clinic = new Clinic { Id = Guid.CreateVersion7(), Name = app.Configuration["FirstAdministrator:Clinic"] ?? "Clinic" };
        db.Add(clinic);
        await db.SaveChangesAsync();
        await AddPersonAsync(scope.ServiceProvider, clinic.Id, email, "Administrator", [Roles.Administrator], password);
        await transaction.CommitAsync();
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

    /// <summary>Adds a person.</summary>
    /// <exception cref="StartFailureException">The address or the password won't do.</exception>
    public static async Task<Person> AddPersonAsync(IServiceProvider services, Guid clinicId, string email, string name, IEnumerable<string> roles, string password)
    {
        var people = services.GetRequiredService<UserManager<Person>>();
        var person = new Person { Id = Guid.CreateVersion7(), ClinicId = clinicId, UserName = email, Email = email, DisplayName = name };
        var result = await people.CreateAsync(person, password);
        if (result.Succeeded)
        {
            result = await people.AddToRolesAsync(person, roles);
        }

        return result.Succeeded
            ? person
            : throw new StartFailureException($"An account can't be made: {string.Join(" ", result.Errors.Select(error => error.Description))}");
    }
}
