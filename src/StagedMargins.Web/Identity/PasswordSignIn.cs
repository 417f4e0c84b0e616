using System.Net;
using Microsoft.AspNetCore.Identity;
using StagedMargins.Core;
using StagedMargins.Storage.People;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Identity;

/// <summary>What one signs in with.</summary>
/// <param name="Email">Address.</param>
/// <param name="Password">Password.</param>
/// <param name="TwoFactorCode">The code that the authenticator app shows, where the account asks for one.</param>
/// <param name="RecoveryCode">A recovery code in its place.</param>
public sealed record LoginBody(string? Email, string? Password, string? TwoFactorCode = null, string? RecoveryCode = null);

/// <summary>Finds out whether someone is who they say, by password and, where they use one, a second factor. The API and the pages both ask here.</summary>
/// <param name="people">People.</param>
/// <param name="failed">Failures.</param>
/// <param name="http">The request, for the caller's network address.</param>
/// <param name="clock">The clock.</param>
public sealed class PasswordSignIn(UserManager<Person> people, FailedLogins failed, IHttpContextAccessor http, TimeProvider clock)
{
    private const int LongestEmail = 256;

    // Of nobody: an unknown address takes as long to refuse as a wrong password.
    private static readonly Lazy<string> NobodysHash = new(() => new PasswordHasher<Person>().HashPassword(new Person(), OneTimeCode.New()));

    private IPAddress? Network => http.HttpContext!.Connection.RemoteIpAddress;

    /// <summary>The person of an address, a password and a second factor.</summary>
    /// <exception cref="NotSignedInException">Not right, or the second factor is missing.</exception>
    /// <exception cref="TooManyTriesException">Too many failures before.</exception>
    public async Task<Person> CheckAsync(LoginBody body, CancellationToken cancel)
    {
        var email = body.Email?.Trim() ?? "";
        using var turn = await failed.EnterAsync(email, Network, cancel);
        var person = await WithPasswordAsync(email, body.Password) ?? throw NotSignedInException.Wrong();
        await RequireSecondFactorAsync(person, body);
        await people.ResetAccessFailedCountAsync(person);
        return person;
    }

    /// <summary>The second factor of someone who has shown the first in another way.</summary>
    /// <inheritdoc cref="CheckAsync"/>
    public async Task CheckSecondFactorAsync(Person person, LoginBody body, CancellationToken cancel)
    {
        using var turn = await failed.EnterAsync(person.Email, Network, cancel);
        if (await people.IsLockedOutAsync(person))
        {
            throw new TooManyTriesException(person.LockoutEnd!.Value - clock.GetUtcNow());
        }

        await RequireSecondFactorAsync(person, body);
    }

    /// <summary>Asks someone who is signed in for their password once more, before what a stolen session must not do.</summary>
    /// <exception cref="InvalidEntryException">Not right.</exception>
    /// <exception cref="TooManyTriesException">Too many failures before.</exception>
    public async Task ConfirmAsync(Person person, string? password, CancellationToken cancel)
    {
        using var turn = await failed.EnterAsync(person.Email, Network, cancel);
        if (await WithPasswordAsync(person.Email!, password) is null)
        {
            throw new InvalidEntryException("password", "Wrong password.");
        }
    }

    private async Task<Person?> WithPasswordAsync(string email, string? password)
    {
        var person = email.Length <= LongestEmail && !email.Any(char.IsControl) ? await people.FindByEmailAsync(email) : null;
        // A locked account is answered like an unknown address, so that an answer never tells which addresses are known.
        var isLocked = person is not null && await people.IsLockedOutAsync(person);
        if (await HasPasswordAsync(isLocked ? null : person, password ?? "") && !person!.IsDisabled)
        {
            return person;
        }

        await NoteAsync(isLocked ? null : person, email);
        return null;
    }

    private async Task<bool> HasPasswordAsync(Person? person, string password)
    {
        if (password.Length > PasswordRules.Longest)
        {
            return false;
        }

        if (person is null || !await people.HasPasswordAsync(person))
        {
            people.PasswordHasher.VerifyHashedPassword(new Person(), NobodysHash.Value, password);
            return false;
        }

        return await people.CheckPasswordAsync(person, password);
    }

    private async Task RequireSecondFactorAsync(Person person, LoginBody body)
    {
        if (!person.TwoFactorEnabled)
        {
            return;
        }

        var isRight = body switch
        {
            { TwoFactorCode: { Length: > 0 } code } => await people.VerifyTwoFactorTokenAsync(person, TokenOptions.DefaultAuthenticatorProvider, code),
            { RecoveryCode: { Length: > 0 } code } => (await people.RedeemTwoFactorRecoveryCodeAsync(person, code.Trim().ToUpperInvariant())).Succeeded,
            _ => throw new NotSignedInException("twoFactorRequired", "This account needs a second factor: send twoFactorCode from the authenticator app, or a recoveryCode."),
        };
        if (!isRight)
        {
            await NoteAsync(person, person.Email!);
            throw new NotSignedInException("twoFactorWrong", "This code is wrong or has already been used. Wait for the next one from the app, and check the clock of its device.");
        }
    }

    private async Task NoteAsync(Person? person, string email)
    {
        failed.Note(email, Network);
        if (person is not null)
        {
            await people.AccessFailedAsync(person);
        }
    }
}
