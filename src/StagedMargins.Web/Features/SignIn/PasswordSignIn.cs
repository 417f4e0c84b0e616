using Microsoft.AspNetCore.Identity;
using StagedMargins.Storage.People;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>Finds out whether someone is who they say, by password. The API and the pages both ask here.</summary>
/// <param name="people">People.</param>
/// <param name="hasher">Hashes passwords.</param>
/// <param name="failed">Failures.</param>
/// <param name="http">The request, for the caller's network address.</param>
/// <param name="clock">The clock.</param>
public sealed class PasswordSignIn(
    UserManager<Person> people, IPasswordHasher<Person> hasher, FailedLogins failed, IHttpContextAccessor http, TimeProvider clock)
{
    private const int LongestEmail = 256;

    // Of nobody: an unknown address takes as long to refuse as a wrong password.
    private static readonly Lazy<string> NobodysHash = new(() => new PasswordHasher<Person>().HashPassword(new Person(), OneTimeCode.New()));

    /// <summary>The person of an address and a password.</summary>
    /// <exception cref="NotSignedInException">Not right, or the account is closed.</exception>
    /// <exception cref="TooManyTriesException">Too many failures before.</exception>
    public async Task<Person> CheckAsync(LoginBody body, CancellationToken cancel)
    {
        var (email, network) = (body.Email?.Trim() ?? "", http.HttpContext!.Connection.RemoteIpAddress);
        using var turn = await failed.EnterAsync(email, network, cancel);
        var person = email.Length <= LongestEmail && !email.Any(char.IsControl) ? await people.FindByEmailAsync(email) : null;
        if (person is not null && await people.IsLockedOutAsync(person))
        {
            throw new TooManyTriesException(person.LockoutEnd!.Value - clock.GetUtcNow());
        }

        if (!await HasPasswordAsync(person, body.Password ?? "") || person!.IsDisabled)
        {
            failed.Note(email, network);
            await NoteAsync(person);
            throw NotSignedInException.Wrong();
        }

        await people.ResetAccessFailedCountAsync(person);
        return person;
    }

    private async Task<bool> HasPasswordAsync(Person? person, string password)
    {
        if (password.Length > PasswordRules.Longest)
        {
            return false;
        }

        if (person is null || !await people.HasPasswordAsync(person))
        {
            hasher.VerifyHashedPassword(person ?? new Person(), NobodysHash.Value, password);
            return false;
        }

        return await people.CheckPasswordAsync(person, password);
    }

    private async Task NoteAsync(Person? person)
    {
        if (person is not null)
        {
            await people.AccessFailedAsync(person);
        }
    }
}
