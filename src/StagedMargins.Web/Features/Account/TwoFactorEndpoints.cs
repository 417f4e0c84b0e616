using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Account;

/// <summary>One's own password, asked for before what a stolen session must not do.</summary>
/// <param name="Password">The password.</param>
public sealed record OwnPasswordBody(string? Password);

/// <summary>A code that the authenticator app shows.</summary>
/// <param name="Code">Six digits.</param>
public sealed record TimeCodeBody(string? Code);

/// <summary>What the authenticator app is given.</summary>
/// <param name="SharedKey">The key, base 32, to be typed where no picture can be read.</param>
/// <param name="OtpauthUri">The same for a QR code.</param>
public sealed record SharedKeyView(string SharedKey, string OtpauthUri);

/// <summary>Codes that stand in for the app, each once. They are shown this once.</summary>
/// <param name="RecoveryCodes">The codes.</param>
public sealed record RecoveryCodesView(string[] RecoveryCodes);

/// <summary>The second factor of one's own account: time codes of an authenticator app.</summary>
public static class TwoFactorEndpoints
{
    private const int RecoveryCodes = 10;

    /// <summary>Adds the routes.</summary>
    public static void MapTwoFactor(this IEndpointRouteBuilder routes)
    {
        var factor = routes.MapGroup("/api/auth/two-factor").WithTags("Second factor").RequireAuthorization(Policies.Person);
        factor.MapPost("/start", StartAsync).WithSummary("Gives a key for the authenticator app; no code is needed at sign-in until it is confirmed.").Produces<SharedKeyView>();
        factor.MapPost("/confirm", ConfirmAsync).WithSummary("Turns the second factor on with a first code; all sign-ins end.").Produces<RecoveryCodesView>();
        factor.MapPost("/recovery-codes", RenewAsync).WithSummary("Gives new recovery codes; the old ones no longer work.").Produces<RecoveryCodesView>();
        factor.MapPost("/off", OffAsync).WithSummary("Turns the second factor off; all sign-ins end.").Produces(StatusCodes.Status204NoContent);
    }

    private static async Task<IResult> StartAsync(
        OwnPasswordBody body, CurrentPerson person, UserManager<Person> people, IUserStore<Person> store, PasswordSignIn passwords, ClinicContext db, CancellationToken cancel)
    {
        var own = await people.GetAsync(person);
        await passwords.ConfirmAsync(own, body.Password, cancel);
        if (own.TwoFactorEnabled)
        {
            throw new RuleViolationException("twoFactorOn", "The second factor is on. Turn it off before setting up another app.");
        }

        // By the store: the keeper of people would end this very sign-in.
        var key = people.GenerateNewAuthenticatorKey();
        await ((IUserAuthenticatorKeyStore<Person>)store).SetAuthenticatorKeyAsync(own, key, cancel);
        (await people.UpdateAsync(own)).OrRefuse();
        var clinic = await db.Clinics.Where(c => c.Id == person.ClinicId).Select(c => c.Name).SingleAsync(cancel);
        return Results.Ok(new SharedKeyView(key, TotpCodes.UriFor(clinic, own.Email!, key)));
    }

    private static async Task<IResult> ConfirmAsync(TimeCodeBody body, CurrentPerson person, UserManager<Person> people)
    {
        var own = await people.GetAsync(person);
        if (own.TwoFactorEnabled)
        {
            throw new RuleViolationException("twoFactorOn", "The second factor is already on.");
        }

        if (!await people.VerifyTwoFactorTokenAsync(own, TokenOptions.DefaultAuthenticatorProvider, body.Code ?? ""))
        {
            throw new InvalidEntryException("code", "Not the current code. Check the key in the app and the clock of its device.");
        }

        var codes = await NewCodesAsync(people, own);
        (await people.SetTwoFactorEnabledAsync(own, true)).OrRefuse();
        return Results.Ok(codes);
    }

    private static async Task<IResult> RenewAsync(OwnPasswordBody body, CurrentPerson person, UserManager<Person> people, PasswordSignIn passwords, CancellationToken cancel)
    {
        var own = await people.GetAsync(person);
        await passwords.ConfirmAsync(own, body.Password, cancel);
        return own.TwoFactorEnabled
            ? Results.Ok(await NewCodesAsync(people, own))
            : throw new RuleViolationException("twoFactorOff", "The second factor is off, so there is nothing to recover.");
    }

    private static async Task<IResult> OffAsync(OwnPasswordBody body, CurrentPerson person, UserManager<Person> people, PasswordSignIn passwords, CancellationToken cancel)
    {
        var own = await people.GetAsync(person);
        await passwords.ConfirmAsync(own, body.Password, cancel);
        (await people.SetTwoFactorEnabledAsync(own, false)).OrRefuse();
        (await people.ResetAuthenticatorKeyAsync(own)).OrRefuse();
        return Results.NoContent();
    }

    private static async Task<RecoveryCodesView> NewCodesAsync(UserManager<Person> people, Person own) =>
        new([.. (await people.GenerateNewTwoFactorRecoveryCodesAsync(own, RecoveryCodes))!]);
}
