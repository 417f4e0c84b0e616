using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Account;

/// <summary>A new password for one's own account.</summary>
/// <param name="Password">The present one.</param>
/// <param name="NewPassword">The new one.</param>
public sealed record PasswordBody(string? Password, string? NewPassword);

/// <summary>A password set with a one-time code of the administrator.</summary>
/// <param name="Email">Address.</param>
/// <param name="Code">The code.</param>
/// <param name="Password">The password.</param>
public sealed record SetPasswordBody(string? Email, string? Code, string? Password);

/// <summary>Who is signed in.</summary>
/// <param name="Email">Address.</param>
/// <param name="Name">Name shown to colleagues.</param>
/// <param name="Roles">What they may do.</param>
/// <param name="Clinic">The clinic's name.</param>
/// <param name="TwoFactor">True where a time code is asked for at sign-in.</param>
/// <param name="RecoveryCodesLeft">Recovery codes that were not used yet.</param>
/// <param name="Passkeys">Number of passkeys.</param>
public sealed record OwnAccountView(string Email, string Name, string[] Roles, string Clinic, bool TwoFactor, int RecoveryCodesLeft, int Passkeys);

/// <summary>One's own account.</summary>
public static class OwnAccountEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapOwnAccount(this IEndpointRouteBuilder routes)
    {
        var auth = routes.MapGroup("/api/auth").WithTags("Signing in");
        auth.MapGet("/me", MeAsync).RequireAuthorization(Policies.Person)
            .WithSummary("Who is signed in.").Produces<OwnAccountView>();
        auth.MapPost("/password", ChangeAsync).RequireAuthorization(Policies.Person)
            .WithSummary("Changes the caller's own password; all their sign-ins end.").Produces(StatusCodes.Status204NoContent);
        auth.MapPost("/set-password", SetAsync).AllowAnonymous()
            .WithSummary("Sets a password with the one-time code from the administrator.").Produces(StatusCodes.Status204NoContent);
    }

    private static async Task<IResult> MeAsync(CurrentPerson person, UserManager<Person> people, ClinicContext db, CancellationToken cancel)
    {
        var own = await people.GetAsync(person);
        var clinic = await db.Clinics.Where(c => c.Id == person.ClinicId).Select(c => c.Name).SingleAsync(cancel);
        var passkeys = await people.GetPasskeysAsync(own);
        return Results.Ok(new OwnAccountView(
            own.Email!, own.DisplayName, [.. await people.GetRolesAsync(own)], clinic, own.TwoFactorEnabled, await people.CountRecoveryCodesAsync(own), passkeys.Count));
    }

    private static async Task<IResult> ChangeAsync(
        PasswordBody body, CurrentPerson person, UserManager<Person> people, PasswordSignIn passwords, HttpContext http, CancellationToken cancel)
    {
        var own = await people.GetAsync(person);
        await passwords.ConfirmAsync(own, body.Password, cancel);
        if (body.NewPassword == body.Password)
        {
            throw new InvalidEntryException("newPassword", "This is already your password.");
        }

        (await people.ChangePasswordAsync(own, body.Password!, body.NewPassword ?? "")).OrRefuse("newPassword");
        await Sessions.ForgetCookieAsync(http);
        return Results.NoContent();
    }

    private static async Task<IResult> SetAsync(
        SetPasswordBody body, UserManager<Person> people, FailedLogins failed, TimeProvider clock, HttpContext http, CancellationToken cancel)
    {
        var (email, network) = (body.Email?.Trim() ?? "", http.Connection.RemoteIpAddress);
        using var turn = await failed.EnterAsync(email, network, cancel);
        var person = email.Any(char.IsControl) ? null : await people.FindByEmailAsync(email);
        if (person is null or { IsDisabled: true } || person.PasswordCodeHash != OneTimeCode.HashOf(body.Code ?? "") || person.PasswordCodeUntilUtc <= clock.GetUtcNow().UtcDateTime)
        {
            failed.Note(email, network);
            throw new NotSignedInException("codeNotRight", "The e-mail address or one-time code is wrong, or the code has been used or has expired. Ask the administrator for another.");
        }

        person.PasswordCodeHash = null;
        person.PasswordCodeUntilUtc = null;
        (await people.AddPasswordAsync(person, body.Password ?? "")).OrRefuse();
        (await people.SetLockoutEndDateAsync(person, null)).OrRefuse();
        return Results.NoContent();
    }
}
