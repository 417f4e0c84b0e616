using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>What renews a sign-in.</summary>
/// <param name="RefreshToken">The token given at sign-in.</param>
public sealed record RefreshBody(string? RefreshToken);

/// <summary>What a page sends back to show that a request comes from it.</summary>
/// <param name="HeaderName">The header to send it in.</param>
/// <param name="Token">The token.</param>
public sealed record AntiforgeryView(string HeaderName, string Token);

/// <summary>Signing in and out over the API. Nobody registers themselves.</summary>
public static class SignInEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapSignIn(this IEndpointRouteBuilder routes)
    {
        var auth = routes.MapGroup("/api/auth").WithTags("Signing in");
        auth.MapPost("/login", LoginAsync).AllowAnonymous()
            .WithSummary("Signs in and gives a bearer token; with pages=true, the cookie for the pages instead.").Produces<AccessTokenResponse>();
        auth.MapPost("/refresh", RefreshAsync).AllowAnonymous()
            .WithSummary("Renews a sign-in.").Produces<AccessTokenResponse>();
        auth.MapGet("/antiforgery", AntiforgeryToken).AllowAnonymous()
            .WithSummary("The anti-forgery token that a page sends with each request that changes something.").Produces<AntiforgeryView>();
        auth.MapPost("/logout", LogoutAsync).RequireAuthorization(Policies.Person)
            .WithSummary("Ends all of the person's sign-ins at once.").Produces(StatusCodes.Status204NoContent);
    }

    private static async Task<IResult> LoginAsync(
        LoginBody body, bool? pages, PasswordSignIn passwords, SignInManager<Person> signIn, HttpContext http, CancellationToken cancel) =>
        await SignInAnswer.AnswerAsync(http, await signIn.CreateUserPrincipalAsync(await passwords.CheckAsync(body, cancel)), pages);

    private static Ok<AntiforgeryView> AntiforgeryToken(IAntiforgery forgery, HttpContext http)
    {
        var tokens = forgery.GetAndStoreTokens(http);
        return TypedResults.Ok(new AntiforgeryView(tokens.HeaderName!, tokens.RequestToken!));
    }

    private static async Task<IResult> RefreshAsync(
        RefreshBody body, SignInManager<Person> signIn, IOptionsMonitor<BearerTokenOptions> tokens, TimeProvider clock)
    {
        var ticket = body.RefreshToken is { } token ? tokens.Get(IdentityConstants.BearerScheme).RefreshTokenProtector.Unprotect(token) : null;
        return ticket?.Properties.ExpiresUtc is { } expires && clock.GetUtcNow() < expires
            && await signIn.ValidateSecurityStampAsync(ticket.Principal) is { IsDisabled: false } person
            ? SignInAnswer.Token(await signIn.CreateUserPrincipalAsync(person))
            : throw NotSignedInException.Ended();
    }

    private static async Task<IResult> LogoutAsync(CurrentPerson person, UserManager<Person> people, HttpContext http)
    {
        (await people.UpdateSecurityStampAsync(await people.GetAsync(person))).OrRefuse();
        await Sessions.ForgetCookieAsync(http);
        return Results.NoContent();
    }
}
