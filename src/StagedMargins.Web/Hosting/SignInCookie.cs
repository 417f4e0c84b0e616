using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;

namespace StagedMargins.Web.Hosting;

/// <summary>The cookie that lets people in on the pages, and the guard against requests that another site sends with it.</summary>
public static class SignInCookie
{
    /// <summary>Sets the cookie.</summary>
    public static void Configure(CookieAuthenticationOptions options)
    {
        options.Cookie.Name = "stagedmargins.who";
        options.Cookie.HttpOnly = true;
        options.Cookie.SameSite = SameSiteMode.Lax;
        options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        options.LoginPath = "/sign-in";
        options.AccessDeniedPath = "/";
        options.ReturnUrlParameter = "returnUrl";
        options.ExpireTimeSpan = TimeSpan.FromHours(10);
        options.Events.OnRedirectToLogin = context => Answer(context, StatusCodes.Status401Unauthorized);
        options.Events.OnRedirectToAccessDenied = context => Answer(context, StatusCodes.Status403Forbidden);
    }

    /// <summary>Refuses a write to the API that comes with the cookie but not from one of our pages.</summary>
    public static void UseCookieGuard(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        var writes = !HttpMethods.IsGet(context.Request.Method) && !HttpMethods.IsHead(context.Request.Method) && !HttpMethods.IsOptions(context.Request.Method);
        if (writes && context.Request.Path.StartsWithSegments("/api") && Services.IsByCookie(context) && context.User.Identity?.IsAuthenticated == true
            && !await context.RequestServices.GetRequiredService<IAntiforgery>().IsRequestValidAsync(context))
        {
            await Results.Problem("This page is out of date. Load it again and repeat what you did.", statusCode: StatusCodes.Status400BadRequest, title: "Not from this page").ExecuteAsync(context);
            return;
        }

        await next(context);
    });

    // The API answers with a status; only pages lead to the sign-in page.
    private static Task Answer(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        if (context.Request.Path.StartsWithSegments("/api") || status == StatusCodes.Status403Forbidden)
        {
            context.Response.StatusCode = status;
            if (status == StatusCodes.Status401Unauthorized)
            {
                context.Response.Headers.WWWAuthenticate = "Bearer";
            }
        }
        else
        {
            context.Response.Redirect(context.RedirectUri);
        }

        return Task.CompletedTask;
    }
}
