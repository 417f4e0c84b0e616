using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>Signing in and out on the pages, by cookie.</summary>
public static class PageSignIn
{
    /// <summary>Adds the routes.</summary>
    public static void MapPageSignIn(this IEndpointRouteBuilder routes)
    {
        routes.MapPost("/sign-in", InAsync).AllowAnonymous().ExcludeFromDescription();
        routes.MapPost("/sign-out", OutAsync).ExcludeFromDescription();
    }

    private static async Task<IResult> InAsync([FromForm] string? email, [FromForm] string? password, [FromForm] string? returnUrl, PasswordSignIn signIn)
    {
        var back = IsLocal(returnUrl) ? returnUrl! : "/";
        return await signIn.TryAsync(IdentityConstants.ApplicationScheme, email, password) switch
        {
            SignInAnswer.In => Results.LocalRedirect(back),
            SignInAnswer.TooMany => Again("many", back),
            _ => Again("yes", back),
        };
    }

    private static async Task<IResult> OutAsync(HttpContext http, SignInManager<Person> signIn, [FromForm] string? none)
    {
        _ = none;
        signIn.AuthenticationScheme = IdentityConstants.ApplicationScheme;
        await signIn.SignOutAsync();
        return Results.LocalRedirect("/sign-in");
    }

    private static IResult Again(string why, string back) =>
        Results.LocalRedirect($"/sign-in?failed={why}&returnUrl={Uri.EscapeDataString(back)}");

    private static bool IsLocal(string? url) => url is ['/', ..] && url is not ['/', '/' or '\\', ..];
}
