using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>What one signs in with.</summary>
/// <param name="Email">Address.</param>
/// <param name="Password">Password.</param>
public sealed record LoginBody(string? Email, string? Password);

/// <summary>What renews a sign-in.</summary>
/// <param name="RefreshToken">The token given at sign-in.</param>
public sealed record RefreshBody(string? RefreshToken);

/// <summary>Signing in over the API. Nobody registers themselves.</summary>
public static class SignInEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapSignIn(this IEndpointRouteBuilder routes)
    {
        var auth = routes.MapGroup("/api/auth").WithTags("Signing in").AllowAnonymous();
        auth.MapPost("/login", LoginAsync).WithSummary("Signs in and gives a bearer token.").Produces<AccessTokenResponse>();
        auth.MapPost("/refresh", RefreshAsync).WithSummary("Renews a sign-in.").Produces<AccessTokenResponse>();
    }

    private static async Task<IResult> LoginAsync(LoginBody body, PasswordSignIn signIn) =>
        await signIn.TryAsync(IdentityConstants.BearerScheme, body.Email, body.Password) switch
        {
            // The sign-in has written the token as the answer.
            SignInAnswer.In => Results.Empty,
            SignInAnswer.TooMany => Results.Problem(
                "Too many failed sign-ins. Wait five minutes and try again.", statusCode: StatusCodes.Status429TooManyRequests, title: "Too many sign-ins"),
            _ => Results.Problem(
                "The address or the password is not right. After ten failures an address waits five minutes.",
                statusCode: StatusCodes.Status401Unauthorized,
                title: "Not signed in"),
        };

    private static async Task<IResult> RefreshAsync(
        RefreshBody body, SignInManager<Person> signIn, IOptionsMonitor<BearerTokenOptions> tokens, TimeProvider clock)
    {
        var ticket = body.RefreshToken is { } token ? tokens.Get(IdentityConstants.BearerScheme).RefreshTokenProtector.Unprotect(token) : null;
        if (ticket?.Properties.ExpiresUtc is not { } expires || clock.GetUtcNow() >= expires
            || await signIn.ValidateSecurityStampAsync(ticket.Principal) is not { } person)
        {
            return Results.Problem("This sign-in can't be renewed; sign in again.", statusCode: StatusCodes.Status401Unauthorized, title: "Not signed in");
        }

        return Results.SignIn(await signIn.CreateUserPrincipalAsync(person), authenticationScheme: IdentityConstants.BearerScheme);
    }
}
