using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.People;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>What makes a clinic and its first administrator.</summary>
/// <param name="Code">The one-time code that the service printed.</param>
/// <param name="Email">The administrator's address.</param>
/// <param name="Name">The administrator's name.</param>
/// <param name="Password">The administrator's password.</param>
/// <param name="Clinic">The clinic's name.</param>
/// <param name="TimeZone">The clinic's time zone, by IANA name.</param>
public sealed record FirstAdministratorBody(string? Code, string? Email, string? Name, string? Password, string? Clinic, string? TimeZone);

/// <summary>A clinic that was made.</summary>
/// <param name="Clinic">Its name.</param>
/// <param name="Administrator">The address of its administrator, who can sign in now.</param>
public sealed record NewClinicView(string Clinic, string Administrator);

/// <summary>How a clinic gets its first administrator: by a one-time code that only whoever runs the service has seen.</summary>
public static class FirstAdministratorEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapFirstAdministrator(this IEndpointRouteBuilder routes) => routes
        .MapPost("/api/auth/first-administrator", MakeAsync).AllowAnonymous().WithTags("Signing in")
        .WithSummary("Creates a clinic and its administrator, with the one-time code that the service printed.")
        .Produces<NewClinicView>(StatusCodes.Status201Created);

    private static async Task<IResult> MakeAsync(
        FirstAdministratorBody body, ClinicContext db, UserManager<Person> people, FailedLogins failed, HttpContext http, CancellationToken cancel)
    {
        var errors = new FieldErrors();
        var email = errors.Collect(null, () => PersonFields.Email(body.Email));
        var name = errors.Collect(null, () => FreeText.Required("name", body.Name, PersonFields.LongestName));
        var clinicName = errors.Collect(null, () => FreeText.Required("clinic", body.Clinic, PersonFields.LongestName));
        var zone = errors.Collect(null, () => ClinicFields.Zone(FreeText.Required("timeZone", body.TimeZone, ClinicFields.LongestZone)));

        using var turn = await failed.EnterAsync(null, http.Connection.RemoteIpAddress, cancel);
        await using var transaction = await db.Database.BeginTransactionAsync(cancel);
        await TakeAsync(body.Code, db, failed, http, cancel);
        errors.ThrowIfAny();
        var clinic = new Clinic { Id = Guid.CreateVersion7(), Name = clinicName!, TimeZone = zone! };
        db.Add(clinic);
        await db.SaveChangesAsync(cancel);
        var administrator = new Person { Id = Guid.CreateVersion7(), ClinicId = clinic.Id, UserName = email, Email = email, DisplayName = name! };
        (await people.CreateAsync(administrator, body.Password ?? "")).OrRefuse();
        (await people.AddToRoleAsync(administrator, Roles.Administrator)).OrRefuse();
        await transaction.CommitAsync(cancel);
        return Results.Created((string?)null, new NewClinicView(clinic.Name, email!));
    }

    // Taking the row away first lets one of two callers with the same code through, and a refusal later on gives it back.
    private static async Task TakeAsync(string? code, ClinicContext db, FailedLogins failed, HttpContext http, CancellationToken cancel)
    {
        var hash = OneTimeCode.HashOf(code ?? "");
        if (await db.ClinicCodes.Where(known => known.Hash == hash).ExecuteDeleteAsync(cancel) == 0)
        {
            failed.Note(null, http.Connection.RemoteIpAddress);
            throw new NotSignedInException("codeNotRight", "This one-time code is wrong or has already been used. To get another, restart the service if it has no accounts yet; otherwise run its add-clinic command.");
        }
    }
}
