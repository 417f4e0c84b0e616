using Microsoft.AspNetCore.Identity;
using StagedMargins.Core.Entries.Accounts;

namespace StagedMargins.Storage.People;

/// <summary>Something that lets someone sign in, as the database keeps it.</summary>
/// <param name="OwnerId">Whose it is.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Value">What is kept: a hash, a key, a code, a public key.</param>
internal sealed record AccountSecret(Guid OwnerId, CredentialKind Kind, string Value);

/// <summary>Finds what lets people sign in, in the rows that the framework keeps.</summary>
internal static class AccountSecrets
{
    // As UserStoreBase of the framework names them.
    private const string AuthenticatorKey = "AuthenticatorKey";
    private const string RecoveryCodes = "RecoveryCodes";

    /// <summary>The secrets in a row.</summary>
    internal static IEnumerable<AccountSecret> In(object row) => row switch
    {
        Person person => In(person),
        IdentityUserToken<Guid> { Value.Length: > 0, Name: AuthenticatorKey } token => [new(token.UserId, CredentialKind.Authenticator, token.Value)],
        IdentityUserToken<Guid> { Value.Length: > 0, Name: RecoveryCodes } token =>
            token.Value.Split(';', StringSplitOptions.RemoveEmptyEntries).Select(code => new AccountSecret(token.UserId, CredentialKind.RecoveryCode, code)),
        IdentityUserPasskey<Guid> passkey =>
            [new(passkey.UserId, CredentialKind.Passkey, $"{Convert.ToBase64String(passkey.CredentialId)} {Convert.ToBase64String(passkey.Data.PublicKey)}")],
        IdentityUserLogin<Guid> login => [new(login.UserId, CredentialKind.OrganisationSignIn, $"{login.LoginProvider} {login.ProviderKey}")],
        ApiToken token => [new(token.Id, CredentialKind.Token, token.Hash)],
        _ => [],
    };

    private static IEnumerable<AccountSecret> In(Person person)
    {
        if (person.PasswordHash is { } password)
        {
            yield return new AccountSecret(person.Id, CredentialKind.Password, password);
        }

        if (person.PasswordCodeHash is { } code)
        {
            yield return new AccountSecret(person.Id, CredentialKind.PasswordCode, code);
        }
    }
}
