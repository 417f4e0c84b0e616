using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using StagedMargins.Storage.People;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;

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

    private static async Task<IResult> InAsync(
        [FromForm] string? email,
        [FromForm] string? password,
        [FromForm] string? twoFactorCode,
        [FromForm] string? recoveryCode,
        [FromForm] string? returnUrl,
        PasswordSignIn passwords,
        SignInManager<Person> signIn,
        HttpContext http,
        CancellationToken cancel)
    {
        var back = IsLocal(returnUrl) ? returnUrl! : "/";
        try
        {
            var person = await passwords.CheckAsync(new LoginBody(email, password, twoFactorCode, recoveryCode), cancel);
            await http.SignInAsync(IdentityConstants.ApplicationScheme, await signIn.CreateUserPrincipalAsync(person));
            return Results.LocalRedirect(back);
        }
        catch (NotSignedInException e)
        {
            return Again(e.Type, back);
        }
        catch (TooManyTriesException)
        {
            return Again("many", back);
        }
    }

    private static async Task<IResult> OutAsync(HttpContext http, [FromForm] string? none)
    {
        _ = none;
        await Sessions.ForgetCookieAsync(http);
        return Results.LocalRedirect("/sign-in");
    }

    private static IResult Again(string why, string back) =>
        Results.LocalRedirect($"/sign-in?failed={why}&returnUrl={Uri.EscapeDataString(back)}");

    // A path of this service, in characters that a header can carry; a browser reads a backslash as a slash.
    private static bool IsLocal(string? url) =>
        url is ['/', ..] and not ['/', '/', ..] && url.All(letter => letter is > ' ' and < '\x7f' and not '\\');
}
