using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Settings;

/// <summary>A person as they are added.</summary>
/// <param name="Email">Address, with which they sign in.</param>
/// <param name="Name">Name shown to colleagues.</param>
/// <param name="Roles">What they may do.</param>
/// <param name="Password">Their first password.</param>
public sealed record PersonBody(string? Email, string? Name, string[]? Roles, string? Password);

/// <summary>A person as they are sent.</summary>
/// <param name="Email">Address.</param>
/// <param name="Name">Name.</param>
/// <param name="Roles">What they may do.</param>
public sealed record PersonView(string Email, string Name, string[] Roles);

/// <summary>The people of the clinic, kept by its administrator.</summary>
public static class PeopleEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapPeople(this IEndpointRouteBuilder routes)
    {
        var people = routes.MapGroup("/api/people").WithTags("People and settings").RequireAuthorization(Policies.Administrator);
        people.MapGet("/", ListAsync).WithSummary("The people of the clinic.").Produces<PersonView[]>();
        people.MapPost("/", AddAsync).WithSummary("Adds a person.").Produces<PersonView>(StatusCodes.Status201Created);
    }

    /// <summary>The people of a clinic, by address.</summary>
    public static async Task<IReadOnlyList<PersonView>> ListOfAsync(Guid clinicId, ClinicContext db, CancellationToken cancel)
    {
        var rows = await (from user in db.Users
                          where user.ClinicId == clinicId
                          orderby user.Email
                          select new
                          {
                              user.Email,
                              user.DisplayName,
                              Roles = (from held in db.UserRoles
                                       join role in db.Roles on held.RoleId equals role.Id
                                       where held.UserId == user.Id
                                       orderby role.Name
                                       select role.Name).ToArray(),
                          }).ToListAsync(cancel);
        return [.. rows.Select(row => new PersonView(row.Email!, row.DisplayName, row.Roles!))];
    }

    private static async Task<IResult> ListAsync(CurrentPerson person, ClinicContext db, CancellationToken cancel) =>
        Results.Ok(await ListOfAsync(person.ClinicId, db, cancel));

    private static async Task<IResult> AddAsync(PersonBody body, CurrentPerson person, UserManager<Person> users, ClinicContext db, CancellationToken cancel)
    {
        var errors = new FieldErrors();
        var email = errors.Take(null, () => CheckEmail(body.Email));
        var name = errors.Take(null, () => FreeText.Required("name", body.Name, 100));
        var roles = errors.Take(null, () => CheckRoles(body.Roles));
        errors.ThrowIfAny();

        await using var transaction = await db.Database.BeginTransactionAsync(cancel);
        var added = new Person { Id = Guid.CreateVersion7(), ClinicId = person.ClinicId, UserName = email, Email = email, DisplayName = name! };
        Refuse(await users.CreateAsync(added, body.Password ?? ""), errors);
        Refuse(await users.AddToRolesAsync(added, roles!), errors);
        await transaction.CommitAsync(cancel);
        return Results.Created("/api/people", new PersonView(email!, name!, roles!));
    }

    private static void Refuse(IdentityResult result, FieldErrors errors)
    {
        foreach (var error in result.Errors)
        {
            errors.Add(error.Code.StartsWith("Password", StringComparison.Ordinal) ? "password" : "email", error.Description);
        }

        errors.ThrowIfAny();
    }

    private static string CheckEmail(string? email)
    {
        var text = FreeText.Required("email", email, 200);
        return text.Count(c => c == '@') == 1 && !text.Any(char.IsWhiteSpace) && text[0] != '@' && text[^1] != '@'
            ? text
            : throw new InvalidEntryException("email", "An address such as name@clinic.example.");
    }

    private static string[] CheckRoles(string[]? roles) => roles is { Length: > 0 } && roles.All(Storage.People.Roles.All.Contains)
        ? [.. roles.Distinct()]
        : throw new InvalidEntryException("roles", $"One or more of: {string.Join(", ", Storage.People.Roles.All)}.");
}
