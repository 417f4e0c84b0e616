using Microsoft.AspNetCore.Identity;
using StagedMargins.Core;
using StagedMargins.Storage.People;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Identity;

/// <summary>The answers of the framework's keeper of people, as refusals of this program.</summary>
public static class IdentityErrors
{
    /// <summary>Refuses what the keeper of people refused, by field.</summary>
    /// <param name="result">Its answer.</param>
    /// <param name="passwordField">The field that holds the password.</param>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    /// <exception cref="RuleViolationException">Someone else changed the account at the same moment.</exception>
    public static void OrRefuse(this IdentityResult result, string passwordField = "password")
    {
        if (result.Errors.Any(error => error.Code == nameof(IdentityErrorDescriber.ConcurrencyFailure)))
        {
            throw new RuleViolationException("writtenMeanwhile", "Someone else changed this account at the same moment. Check it and try again.");
        }

        var errors = new FieldErrors();
        foreach (var error in result.Errors.DistinctBy(error => error.Description))
        {
            errors.Add(error.Code.StartsWith("Password", StringComparison.Ordinal) ? passwordField : "email", error.Description);
        }

        errors.ThrowIfAny();
    }

    /// <summary>Removes the second factor, the passkeys and the link to the organisation's provider, and ends every sign-in.</summary>
    public static async Task RemoveOtherSignInsAsync(this UserManager<Person> people, Person person)
    {
        foreach (var passkey in await people.GetPasskeysAsync(person))
        {
            (await people.RemovePasskeyAsync(person, passkey.CredentialId)).OrRefuse();
        }

        foreach (var login in await people.GetLoginsAsync(person))
        {
            (await people.RemoveLoginAsync(person, login.LoginProvider, login.ProviderKey)).OrRefuse();
        }

        (await people.SetTwoFactorEnabledAsync(person, false)).OrRefuse();
        (await people.ResetAuthenticatorKeyAsync(person)).OrRefuse();
        await people.GenerateNewTwoFactorRecoveryCodesAsync(person, 0);
    }

    /// <summary>The account of who is signed in.</summary>
    public static async Task<Person> GetAsync(this UserManager<Person> people, CurrentPerson person) =>
        await people.FindByIdAsync(person.Id.ToString()) ?? throw NotSignedInException.Ended();
}
