using System.Security.Claims;
using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>What one signs in with.</summary>
/// <param name="Email">Address.</param>
/// <param name="Password">Password.</param>
public sealed record LoginBody(string? Email, string? Password);

/// <summary>What renews a sign-in.</summary>
/// <param name="RefreshToken">The token given at sign-in.</param>
public sealed record RefreshBody(string? RefreshToken);

/// <summary>Signing in and out over the API. Nobody registers themselves.</summary>
public static class SignInEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapSignIn(this IEndpointRouteBuilder routes)
    {
        var auth = routes.MapGroup("/api/auth").WithTags("Signing in");
        auth.MapPost("/login", LoginAsync).AllowAnonymous()
            .WithSummary("Signs in and gives a bearer token.").Produces<AccessTokenResponse>();
        auth.MapPost("/refresh", RefreshAsync).AllowAnonymous()
            .WithSummary("Renews a sign-in.").Produces<AccessTokenResponse>();
        auth.MapPost("/logout", LogoutAsync).RequireAuthorization(Policies.Person)
            .WithSummary("Ends every sign-in of the person at once.").Produces(StatusCodes.Status204NoContent);
    }

    private static async Task<IResult> LoginAsync(LoginBody body, PasswordSignIn passwords, SignInManager<Person> signIn, CancellationToken cancel) =>
        Token(await signIn.CreateUserPrincipalAsync(await passwords.CheckAsync(body, cancel)));

    private static async Task<IResult> RefreshAsync(
        RefreshBody body, SignInManager<Person> signIn, IOptionsMonitor<BearerTokenOptions> tokens, TimeProvider clock)
    {
        var ticket = body.RefreshToken is { } token ? tokens.Get(IdentityConstants.BearerScheme).RefreshTokenProtector.Unprotect(token) : null;
        return ticket?.Properties.ExpiresUtc is { } expires && clock.GetUtcNow() < expires
            && await signIn.ValidateSecurityStampAsync(ticket.Principal) is { IsDisabled: false } person
            ? Token(await signIn.CreateUserPrincipalAsync(person))
            : throw NotSignedInException.Ended();
    }

    private static async Task<IResult> LogoutAsync(CurrentPerson person, UserManager<Person> people, HttpContext http)
    {
        (await people.UpdateSecurityStampAsync(await people.OfAsync(person))).OrRefuse();
        await Sessions.ForgetCookieAsync(http);
        return Results.NoContent();
    }

    // The scheme writes the token as the answer.
    private static IResult Token(ClaimsPrincipal person) => Results.SignIn(person, authenticationScheme: IdentityConstants.BearerScheme);
}
