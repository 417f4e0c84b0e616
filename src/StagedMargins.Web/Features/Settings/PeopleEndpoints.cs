using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Settings;

/// <summary>A person as they are added. They set their own password with the one-time code of the answer.</summary>
/// <param name="Email">Address, with which they sign in.</param>
/// <param name="Name">Name shown to colleagues.</param>
/// <param name="Roles">What they may do.</param>
public sealed record PersonBody(string? Email, string? Name, string[]? Roles);

/// <summary>What a person may do from now on.</summary>
/// <param name="Roles">Roles.</param>
public sealed record RolesBody(string[]? Roles);

/// <summary>A person as they are sent.</summary>
/// <param name="Id">Their number.</param>
/// <param name="Email">Address.</param>
/// <param name="Name">Name.</param>
/// <param name="Roles">What they may do.</param>
/// <param name="Disabled">True where the account is closed.</param>
/// <param name="TwoFactor">True where a time code is asked for at sign-in.</param>
public sealed record PersonView(Guid Id, string Email, string Name, string[] Roles, bool Disabled, bool TwoFactor);

/// <summary>A one-time code to hand over, with which the person sets a password. It is shown this once.</summary>
/// <param name="Person">The person.</param>
/// <param name="Code">The code.</param>
/// <param name="Until">Until when it holds.</param>
public sealed record PasswordCodeView(PersonView Person, string Code, DateTimeOffset Until);

/// <summary>The people of the clinic, kept by its administrator, who never sees a password.</summary>
public static class PeopleEndpoints
{
    private static readonly TimeSpan CodeHolds = TimeSpan.FromDays(3);

    /// <summary>Adds the routes.</summary>
    public static void MapPeople(this IEndpointRouteBuilder routes)
    {
        var people = routes.MapGroup("/api/people").WithTags("People and settings").RequireAuthorization(Policies.Administrator);
        people.MapGet("/", ListAsync).WithSummary("The people of the clinic.").Produces<PersonView[]>();
        people.MapPost("/", AddAsync).WithSummary("Adds a person, who sets a password with the one-time code in the answer.").Produces<PasswordCodeView>(StatusCodes.Status201Created);
        var one = people.MapGroup("/{personId:guid}");
        one.MapPost("/roles", SetRolesAsync).WithSummary("Changes a person's roles; their sign-ins end.").Produces<PersonView>();
        one.MapPost("/disable", DisableAsync).WithSummary("Deactivates an account; its sign-ins end.").Produces<PersonView>();
        one.MapPost("/enable", EnableAsync).WithSummary("Reactivates an account.").Produces<PersonView>();
        one.MapPost("/password-code", ResetPasswordAsync).WithSummary("Removes the password and gives a one-time code for a new one; sign-ins end.").Produces<PasswordCodeView>();
        one.MapPost("/second-factor/reset", ResetSecondFactorAsync).WithSummary("Resets the second factor, the passkeys and the link to the organisation's provider; sign-ins end.").Produces<PersonView>();
    }

    /// <summary>The people of a clinic, by address.</summary>
    public static async Task<IReadOnlyList<PersonView>> ListOfAsync(Guid clinicId, ClinicContext db, CancellationToken cancel)
    {
        var rows = await (from user in db.Users
                          where user.ClinicId == clinicId
                          orderby user.Email
                          select new
                          {
                              user,
                              Roles = (from held in db.UserRoles
                                       join role in db.Roles on held.RoleId equals role.Id
                                       where held.UserId == user.Id
                                       orderby role.Name
                                       select role.Name).ToArray(),
                          }).AsNoTracking().ToListAsync(cancel);
        return [.. rows.Select(row => View(row.user, row.Roles!))];
    }

    private static async Task<IResult> ListAsync(CurrentPerson person, ClinicContext db, CancellationToken cancel) =>
        Results.Ok(await ListOfAsync(person.ClinicId, db, cancel));

    private static async Task<IResult> AddAsync(PersonBody body, CurrentPerson person, UserManager<Person> users, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        var errors = new FieldErrors();
        var email = errors.Collect(null, () => PersonFields.Email(body.Email));
        var name = errors.Collect(null, () => FreeText.Required("name", body.Name, PersonFields.LongestName));
        var roles = errors.Collect(null, () => PersonFields.OfRoles(body.Roles));
        errors.ThrowIfAny();

        await using var transaction = await db.Database.BeginTransactionAsync(cancel);
        var added = new Person { Id = Guid.CreateVersion7(), ClinicId = person.ClinicId, UserName = email, Email = email, DisplayName = name! };
        var code = NewCode(added, clock);
        (await users.CreateAsync(added)).OrRefuse();
        (await users.AddToRolesAsync(added, roles!)).OrRefuse();
        await transaction.CommitAsync(cancel);
        return Results.Created("/api/people", code(View(added, roles!)));
    }

    private static Task<IResult> SetRolesAsync(Guid personId, RolesBody body, CurrentPerson person, UserManager<Person> users, ClinicContext db, CancellationToken cancel)
    {
        var roles = PersonFields.OfRoles(body.Roles);
        return ChangeAsync(personId, person, users, db, async changed =>
        {
            var held = await users.GetRolesAsync(changed);
            (await users.RemoveFromRolesAsync(changed, held.Except(roles))).OrRefuse();
            (await users.AddToRolesAsync(changed, roles.Except(held))).OrRefuse();
            (await users.UpdateSecurityStampAsync(changed)).OrRefuse();
        }, cancel);
    }

    private static Task<IResult> DisableAsync(Guid personId, CurrentPerson person, UserManager<Person> users, ClinicContext db, CancellationToken cancel) =>
        ChangeAsync(personId, person, users, db, async changed =>
        {
            changed.IsDisabled = true;
            changed.PasswordCodeHash = null;
            (await users.UpdateSecurityStampAsync(changed)).OrRefuse();
        }, cancel);

    private static Task<IResult> EnableAsync(Guid personId, CurrentPerson person, UserManager<Person> users, ClinicContext db, CancellationToken cancel) =>
        ChangeAsync(personId, person, users, db, async changed =>
        {
            changed.IsDisabled = false;
            (await users.UpdateAsync(changed)).OrRefuse();
        }, cancel);

    private static Task<IResult> ResetSecondFactorAsync(Guid personId, CurrentPerson person, UserManager<Person> users, ClinicContext db, CancellationToken cancel) =>
        ChangeAsync(personId, person, users, db, users.RemoveOtherSignInsAsync, cancel);

    private static async Task<IResult> ResetPasswordAsync(Guid personId, CurrentPerson person, UserManager<Person> users, TimeProvider clock)
    {
        var changed = await FindAsync(personId, person, users);
        var code = NewCode(changed, clock);
        (await users.RemovePasswordAsync(changed)).OrRefuse();
        return Results.Ok(code(View(changed, await users.GetRolesAsync(changed))));
    }

    // A clinic keeps an administrator: two who close each other's account at once queue at the row of the clinic.
    private static async Task<IResult> ChangeAsync(
        Guid personId, CurrentPerson person, UserManager<Person> users, ClinicContext db, Func<Person, Task> change, CancellationToken cancel)
    {
        await using var transaction = await db.Database.BeginTransactionAsync(cancel);
        await db.Clinics.Where(c => c.Id == person.ClinicId).ExecuteUpdateAsync(set => set.SetProperty(c => c.Name, c => c.Name), cancel);
        var changed = await FindAsync(personId, person, users);
        await change(changed);
        var administrators = await users.GetUsersInRoleAsync(Roles.Administrator);
        if (!administrators.Any(one => one.ClinicId == person.ClinicId && !one.IsDisabled))
        {
            throw new RuleViolationException("lastAdministrator", "The clinic would be left without an administrator. Make someone else an administrator first.");
        }

        await transaction.CommitAsync(cancel);
        return Results.Ok(View(changed, await users.GetRolesAsync(changed)));
    }

    private static async Task<Person> FindAsync(Guid personId, CurrentPerson person, UserManager<Person> users) =>
        await users.FindByIdAsync(personId.ToString()) is { } found && found.ClinicId == person.ClinicId
            ? found
            : throw new NotInRecordException("Person not found in this clinic.");

    private static Func<PersonView, PasswordCodeView> NewCode(Person person, TimeProvider clock)
    {
        var (code, until) = (OneTimeCode.New(), clock.GetUtcNow() + CodeHolds);
        (person.PasswordCodeHash, person.PasswordCodeUntilUtc) = (OneTimeCode.HashOf(code), until.UtcDateTime);
        return view => new PasswordCodeView(view, code, until);
    }

    private static PersonView View(Person person, IEnumerable<string> roles) =>
        new(person.Id, person.Email!, person.DisplayName, [.. roles.Order(StringComparer.Ordinal)], person.IsDisabled, person.TwoFactorEnabled);
}
