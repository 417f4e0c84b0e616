using Microsoft.AspNetCore.Antiforgery;
using StagedMargins.Web.Identity;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// A browser adds the cookie to any request, whichever page made it. So a request that changes something under the cookie must
/// also bring the token of our own pages; a request with a bearer token needs none, for no browser adds that by itself.
/// </summary>
public static class ForgeryGuard
{
    /// <summary>Adds the tokens.</summary>
    public static void AddForgeryGuard(this IServiceCollection services) => services.AddAntiforgery(options =>
    {
        options.SuppressXFrameOptionsHeader = true;
        options.Cookie.Name = "stagedmargins.form";
        options.Cookie.SameSite = SameSiteMode.Strict;
        // The framework refuses to work without TLS where this is set to always, and alone the cookie opens nothing.
        options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
    });

    /// <summary>Asks for the token.</summary>
    public static void UseForgeryGuard(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        var method = context.Request.Method;
        var changes = !(HttpMethods.IsGet(method) || HttpMethods.IsHead(method) || HttpMethods.IsOptions(method));
        if (changes && context.User.Identity is { IsAuthenticated: true } && Sessions.IsByCookie(context.Request))
        {
            await context.RequestServices.GetRequiredService<IAntiforgery>().ValidateRequestAsync(context);
        }

        await next(context);
    });
}
