using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.Patients;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Demo;

/// <summary>Starts with an invented clinic, so that the program can be tried at once.</summary>
public static class DemoStart
{
    private const string PasswordVariable = "STAGEDMARGINS_DEMO_PASSWORD";

    /// <summary>Loads the invented clinic into an empty record, or uses the one there, and says how to try it once the service listens.</summary>
    /// <exception cref="StartFailureException">The record holds another clinic.</exception>
    public static async Task PrepareAsync(WebApplication app)
    {
        await using var scope = app.Services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        var files = DemoFiles.Clinic();
        var wanted = Environment.GetEnvironmentVariable(PasswordVariable);
        WarnOfPassword(files, wanted);
        string? password;
        if (await db.Clinics.AnyAsync())
        {
            password = await ReuseAsync(scope.ServiceProvider, db, files, wanted);
        }
        else
        {
            password = string.IsNullOrEmpty(wanted) ? MakePassword() : wanted;
            await LoadAsync(scope.ServiceProvider, db, files, password, app.Services.GetRequiredService<TimeProvider>());
        }

        app.Lifetime.ApplicationStarted.Register(() => DemoGreeting.Print(app.Urls.First(), files, password, password == wanted));
    }

    private static async Task LoadAsync(IServiceProvider services, ClinicContext db, DemoClinic files, string password, TimeProvider clock)
    {
        Console.WriteLine("Loading the demo clinic …");
        await using var transaction = await db.Database.BeginTransactionAsync();
        var clinic = new Clinic { Id = Guid.CreateVersion7(), Name = files.Name, TimeZone = files.TimeZone, OverlapMinutes = files.OverlapMinutes };
        db.Add(clinic);
        await db.SaveChangesAsync();
        services.GetRequiredService<ClinicScope>().ClinicId = clinic.Id;
        var people = new Dictionary<string, Guid>();
        foreach (var person in files.People)
        {
            people[person.Email] = await AddPersonAsync(services.GetRequiredService<UserManager<Person>>(), clinic.Id, person, password);
        }

        var replay = new DemoReplay(
            db, services.GetRequiredService<LedgerWriter>(), services.GetRequiredService<PatientDesk>(), clinic, await ClinicPeople.LoadAsync(db, clinic.Id, CancellationToken.None), people, clock.GetUtcNow());
        var lastNumbers = new Dictionary<int, int>();
        foreach (var demo in DemoFiles.Cases())
        {
            var year = TimeZoneInfo.ConvertTime(clock.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById(clinic.TimeZone)).AddDays(-demo.DaysAgo).Year;
            var number = lastNumbers[year] = lastNumbers.GetValueOrDefault(year) + 1;
            await replay.PlayAsync(demo, FormattableString.Invariant($"{year}-{number:0000}"));
        }

        db.AddRange(lastNumbers.Select(last => new CaseNumberCounter { ClinicId = clinic.Id, Year = last.Key, Last = last.Value }));
        await db.SaveChangesAsync();
        await transaction.CommitAsync();
    }

    // The password is taken as it is, whatever the rules say, so that a script may set a short one; it opens invented data only.
    private static async Task<Guid> AddPersonAsync(UserManager<Person> people, Guid clinicId, DemoPerson demo, string password)
    {
        var person = new Person { Id = Guid.CreateVersion7(), ClinicId = clinicId, UserName = demo.Email, Email = demo.Email, DisplayName = demo.Name };
        person.PasswordHash = people.PasswordHasher.HashPassword(person, password);
        (await people.CreateAsync(person)).OrRefuse();
        (await people.AddToRolesAsync(person, demo.Roles)).OrRefuse();
        return person.Id;
    }

    private static void WarnOfPassword(DemoClinic files, string? wanted)
    {
        if (!string.IsNullOrEmpty(wanted) && PasswordRules.WhyNot(wanted, files.People.Select(person => person.Email).Append(files.Name)) is { } why)
        {
            Console.WriteLine($"Warning: {PasswordVariable} would be refused for a real account. {why} It is accepted for the demo accounts only.");
        }
    }

    // The accounts keep their password unless another is asked for.
    private static async Task<string?> ReuseAsync(IServiceProvider services, ClinicContext db, DemoClinic files, string? wanted)
    {
        var people = services.GetRequiredService<UserManager<Person>>();
        if (!await db.Clinics.AnyAsync(clinic => clinic.Name == files.Name))
        {
            throw new StartFailureException("This record holds a real clinic; --demo needs its own record. Leave ConnectionStrings:Default unset, or name another database.");
        }

        if (string.IsNullOrEmpty(wanted))
        {
            return null;
        }

        foreach (var demo in files.People)
        {
            var person = await people.FindByEmailAsync(demo.Email);
            if (person is not null && !await people.CheckPasswordAsync(person, wanted))
            {
                person.PasswordHash = people.PasswordHasher.HashPassword(person, wanted);
                (await people.UpdateSecurityStampAsync(person)).OrRefuse();
            }
        }

        return wanted;
    }

    private static string MakePassword() => RandomNumberGenerator.GetString("abcdefghijkmnpqrstuvwxyz23456789", 16);
}
