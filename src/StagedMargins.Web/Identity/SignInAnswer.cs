using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;

namespace StagedMargins.Web.Identity;

/// <summary>What a sign-in gives: a bearer token as the answer, or the cookie of the pages.</summary>
public static class SignInAnswer
{
    /// <summary>The token; its scheme writes the answer.</summary>
    public static IResult Token(ClaimsPrincipal person) => Results.SignIn(person, authenticationScheme: IdentityConstants.BearerScheme);

    /// <summary>The token, or the cookie and nothing more.</summary>
    /// <param name="http">The request.</param>
    /// <param name="person">Who signs in.</param>
    /// <param name="pages">True for the cookie.</param>
    public static async Task<IResult> AnswerAsync(HttpContext http, ClaimsPrincipal person, bool? pages)
    {
        if (pages != true)
        {
            return Token(person);
        }

        await http.SignInAsync(IdentityConstants.ApplicationScheme, person);
        return Results.NoContent();
    }
}
