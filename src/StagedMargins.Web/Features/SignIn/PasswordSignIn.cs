using Microsoft.AspNetCore.Identity;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>How a try to sign in went.</summary>
public enum SignInAnswer
{
    /// <summary>In: the token or the cookie is written to the answer.</summary>
    In,

    /// <summary>The address or the password is not right.</summary>
    Refused,

    /// <summary>This address has failed too often and waits.</summary>
    TooMany,
}

/// <summary>Signing in with a password, by token or by cookie alike.</summary>
/// <param name="signIn">Checks passwords.</param>
/// <param name="failed">Counts failures.</param>
public sealed class PasswordSignIn(SignInManager<Person> signIn, FailedLogins failed)
{
    /// <summary>Tries to sign in.</summary>
    /// <param name="scheme">The scheme that writes the token or the cookie.</param>
    /// <param name="email">Address; blanks around it do not count.</param>
    /// <param name="password">Password.</param>
    /// <remarks>A locked account is answered like an unknown address, so that an answer never tells which addresses are known.</remarks>
    public async Task<SignInAnswer> TryAsync(string scheme, string? email, string? password)
    {
        var address = email?.Trim() ?? "";
        if (failed.TooMany(address))
        {
            return SignInAnswer.TooMany;
        }

        // No account has control characters in its address, and PostgreSQL can't even be asked about some of them.
        signIn.AuthenticationScheme = scheme;
        if (!address.Any(char.IsControl)
            && await signIn.PasswordSignInAsync(address, password ?? "", isPersistent: false, lockoutOnFailure: true) is { Succeeded: true })
        {
            return SignInAnswer.In;
        }

        failed.Note(address);
        return SignInAnswer.Refused;
    }
}
