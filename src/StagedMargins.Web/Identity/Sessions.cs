using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Identity;

/// <summary>
/// How a request shows who sent it: a bearer token, the token of another system, or the cookie of the pages. A sign-in is compared with the person's security
/// stamp on each request, so that it ends at the moment when the person is closed out, changes the password or gets other roles.
/// </summary>
public static class Sessions
{
    private const string ByRequest = "ByRequest";

    /// <summary>Adds the ways.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="isDemo">True where the cookie may travel without TLS.</param>
    public static AuthenticationBuilder AddSessions(this IServiceCollection services, IConfiguration settings, bool isDemo) => services
        .AddAuthentication(ByRequest)
        .AddPolicyScheme(ByRequest, null, options => options.ForwardDefaultSelector = context =>
            IsByCookie(context.Request) ? IdentityConstants.ApplicationScheme
            : ApiTokenHandler.IsApiToken(context.Request) ? ApiTokenHandler.SchemeName
            : IdentityConstants.BearerScheme)
        .AddBearerToken(IdentityConstants.BearerScheme)
        .AddScheme<AuthenticationSchemeOptions, ApiTokenHandler>(ApiTokenHandler.SchemeName, null)
        .AddCookie(IdentityConstants.ApplicationScheme, options => Pages(options, settings, isDemo))
        .AddCookie(IdentityConstants.TwoFactorUserIdScheme, options => Passing(options, "stagedmargins.passkey", SameSiteMode.Strict, isDemo));

    /// <summary>Sets a cookie that holds what is asked in one step of signing in until the next.</summary>
    public static void Passing(CookieAuthenticationOptions options, string name, SameSiteMode sameSite, bool isDemo)
    {
        Guard(options, name, sameSite, isDemo);
        options.ExpireTimeSpan = TimeSpan.FromMinutes(5);
    }

    /// <summary>True where a request has no other way to show who sent it than the cookie, which a browser adds by itself.</summary>
    public static bool IsByCookie(HttpRequest request) => request.Headers.Authorization.Count == 0;

    /// <summary>Lets a sign-in count only as long as its person's security stamp is the one it was given under.</summary>
    public static void UseSessions(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        // Whether the process lives must be answered while the database is away, whoever asks.
        var isProbe = context.Request.Path.StartsWithSegments("/health");
        if (!isProbe && CurrentPerson.From(context.User) is { IsApiToken: false } person && !await IsLiveAsync(context, person))
        {
            context.User = new ClaimsPrincipal(new ClaimsIdentity());
        }

        var (scope, known) = (context.RequestServices.GetRequiredService<ClinicScope>(), CurrentPerson.From(context.User));
        (scope.ClinicId, scope.PersonId) = (known?.ClinicId ?? Guid.Empty, known?.Id);
        await next(context);
    });

    /// <summary>Takes the cookie of the pages away.</summary>
    public static Task ForgetCookieAsync(HttpContext context) => context.SignOutAsync(IdentityConstants.ApplicationScheme);

    /// <summary>True while a sign-in counts.</summary>
    public static async Task<bool> IsLiveAsync(HttpContext context, CurrentPerson person)
    {
        var claim = context.RequestServices.GetRequiredService<IOptions<IdentityOptions>>().Value.ClaimsIdentity.SecurityStampClaimType;
        var stamp = context.User.FindFirstValue(claim);
        var db = context.RequestServices.GetRequiredService<ClinicContext>();

        // With the check of the sign-in goes the one of whether the case in the address is to be read blind: one statement for both.
        var live = await db.FindSignInAsync(person.ClinicId, person.Id, stamp, BlindReadFilter.CaseIn(context) ?? Guid.Empty, HttpMethods.IsGet(context.Request.Method), context.RequestAborted);
        if (live is { IsBlind: true })
        {
            BlindReadFilter.Mark(context);
        }

        return live is not null;
    }

    // Coming back from the organisation's provider is a step from another site, on which a strict cookie stays behind.
    private static void Pages(CookieAuthenticationOptions options, IConfiguration settings, bool isDemo)
    {
        Guard(options, "stagedmargins.who", OidcSettings.Authority(settings) is null ? SameSiteMode.Strict : SameSiteMode.Lax, isDemo);
        options.ExpireTimeSpan = TimeSpan.FromHours(10);
        options.SlidingExpiration = true;
        options.LoginPath = "/sign-in";
        options.ReturnUrlParameter = "returnUrl";
        options.Events.OnRedirectToLogin = context => Answer(context, StatusCodes.Status401Unauthorized);
        options.Events.OnRedirectToAccessDenied = context => Answer(context, StatusCodes.Status403Forbidden);
    }

    private static void Guard(CookieAuthenticationOptions options, string name, SameSiteMode sameSite, bool isDemo)
    {
        options.Cookie.Name = name;
        options.Cookie.HttpOnly = true;
        options.Cookie.SameSite = sameSite;
        options.Cookie.SecurePolicy = isDemo ? CookieSecurePolicy.SameAsRequest : CookieSecurePolicy.Always;
    }

    // A program is told by the status; a person is taken to the page where they sign in.
    private static Task Answer(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        if (status == StatusCodes.Status401Unauthorized && !context.Request.Path.StartsWithSegments("/api"))
        {
            context.Response.Redirect(context.RedirectUri);
            return Task.CompletedTask;
        }

        context.Response.StatusCode = status;
        if (status == StatusCodes.Status401Unauthorized)
        {
            context.Response.Headers.WWWAuthenticate = "Bearer";
        }

        return Task.CompletedTask;
    }
}
