using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Identity;
using StagedMargins.Core;
using StagedMargins.Storage.People;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Features.Oidc;

/// <summary>The second factor of an account that asks for one, after the organisation's provider has confirmed the person.</summary>
/// <param name="TwoFactorCode">The code that the authenticator app shows.</param>
/// <param name="RecoveryCode">A recovery code in its place.</param>
public sealed record OidcFinishBody(string? TwoFactorCode, string? RecoveryCode);

/// <summary>
/// Sign-in by the organisation's OpenID Connect provider. Only people whom the administrator has added get in, by the address
/// that the provider has verified; from then on the account belongs to that one subject of the provider.
/// </summary>
public static class OidcEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapOidc(this IEndpointRouteBuilder routes)
    {
        var oidc = routes.MapGroup("/api/auth/oidc").WithTags("Signing in").AllowAnonymous();
        oidc.MapGet("/start", Start).WithSummary("Redirects the browser to the organisation's provider. With pages=true the result is the cookie for the pages, otherwise a bearer token.")
            .Produces(StatusCodes.Status302Found);
        oidc.MapGet("/finish", FinishAsync).WithSummary("The provider's callback: signs in.").Produces<AccessTokenResponse>();
        oidc.MapPost("/finish", FinishWithCodeAsync).WithSummary("The same, with the second factor of an account that has one.").Produces<AccessTokenResponse>();
    }

    private static IResult Start(bool? pages, IConfiguration settings) => OidcSettings.Authority(settings) is null
        ? throw new NotInRecordException("No OpenID Connect provider is set up. Sign in with your password.")
        : Results.Challenge(new AuthenticationProperties { RedirectUri = $"/api/auth/oidc/finish?pages={(pages == true ? "true" : "false")}" }, [OidcSettings.SchemeName]);

    private static Task<IResult> FinishAsync(
        bool? pages, IConfiguration settings, UserManager<Person> people, SignInManager<Person> signIn, PasswordSignIn factors, HttpContext http, CancellationToken cancel) =>
        SignInAsync(pages, new LoginBody(null, null), settings, people, signIn, factors, http, cancel);

    private static Task<IResult> FinishWithCodeAsync(
        OidcFinishBody body, bool? pages, IConfiguration settings, UserManager<Person> people, SignInManager<Person> signIn, PasswordSignIn factors, HttpContext http, CancellationToken cancel) =>
        SignInAsync(pages, new LoginBody(null, null, body.TwoFactorCode, body.RecoveryCode), settings, people, signIn, factors, http, cancel);

    private static async Task<IResult> SignInAsync(
        bool? pages, LoginBody body, IConfiguration settings, UserManager<Person> people, SignInManager<Person> signIn, PasswordSignIn factors, HttpContext http, CancellationToken cancel)
    {
        if (OidcSettings.Authority(settings) is not { } authority || (await http.AuthenticateAsync(IdentityConstants.ExternalScheme)).Principal is not { } shown)
        {
            throw OidcSettings.Failed();
        }

        var person = await KnownAsync(shown, authority, people) ?? throw new NotSignedInException(
            "notKnown", "The organisation's provider knows you, but no active account here has the e-mail address it has verified for you. Ask the administrator.");
        await factors.CheckSecondFactorAsync(person, body, cancel);
        await http.SignOutAsync(IdentityConstants.ExternalScheme);
        var answer = await SignInAnswer.AnswerAsync(http, await signIn.CreateUserPrincipalAsync(person), pages);
        return pages == true && HttpMethods.IsGet(http.Request.Method) ? Results.Redirect("/") : answer;
    }

    // An address can pass to someone else at the provider; its subject can't (OpenID Connect Core 1.0 section 5.7).
    private static async Task<Person?> KnownAsync(ClaimsPrincipal shown, string authority, UserManager<Person> people)
    {
        var (subject, email) = (shown.FindFirstValue("sub"), shown.FindFirstValue("email"));
        if (subject is null || email is null || !bool.TryParse(shown.FindFirstValue(OidcSettings.EmailVerified), out var verified) || !verified
            || await people.FindByEmailAsync(email) is not { IsDisabled: false } person)
        {
            return null;
        }

        var tied = (await people.GetLoginsAsync(person)).Where(login => login.LoginProvider == authority).Select(login => login.ProviderKey).ToList();
        if (tied.Count == 0)
        {
            (await people.AddLoginAsync(person, new UserLoginInfo(authority, subject, null))).OrRefuse();
            return person;
        }

        return tied.Contains(subject) ? person : null;
    }
}
