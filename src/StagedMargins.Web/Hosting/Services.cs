using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http.Json;
using Microsoft.AspNetCore.Identity;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Features.SignIn;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Hosting;

/// <summary>What the host is made of.</summary>
public static class Services
{
    /// <summary>The largest request body, bytes.</summary>
    public const long LargestBody = 1024 * 1024;

    private const string TokenOrCookie = nameof(TokenOrCookie);

    /// <summary>True for a request that is let in by the cookie of the pages, not by a token.</summary>
    public static bool IsByCookie(HttpContext context) => context.Request.Headers.Authorization.Count == 0;

    /// <summary>The pages.</summary>
    public static void AddScreens(this IServiceCollection services)
    {
        services.AddRazorComponents();
        services.AddCascadingAuthenticationState();
        services.AddAntiforgery(options => options.Cookie.Name = "stagedmargins.form");
    }

    /// <summary>How requests are read and refusals are said.</summary>
    public static void AddApi(this IServiceCollection services)
    {
        services.Configure<JsonOptions>(options => ApiJson.Configure(options.SerializerOptions));
        services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
        services.AddExceptionHandler<ProblemHandler>();
        services.AddProblemDetails(options => options.CustomizeProblemDetails = context => context.ProblemDetails.Detail ??= DetailFor(context.ProblemDetails.Status));
        services.AddHttpContextAccessor();
        services.AddSingleton(TimeProvider.System);
        services.AddScoped<CaseWrites>();
    }

    /// <summary>Who may come in.</summary>
    public static void AddSignIn(this IServiceCollection services)
    {
        services.AddAuthentication(TokenOrCookie)
            .AddPolicyScheme(TokenOrCookie, null, options => options.ForwardDefaultSelector = context =>
                IsByCookie(context) ? IdentityConstants.ApplicationScheme : IdentityConstants.BearerScheme)
            .AddBearerToken(IdentityConstants.BearerScheme)
            .AddCookie(IdentityConstants.ApplicationScheme, SignInCookie.Configure);
        services.AddIdentityCore<Person>(options =>
            {
                options.User.RequireUniqueEmail = true;
                options.Password.RequiredLength = 12;
                options.Password.RequireDigit = false;
                options.Password.RequireLowercase = false;
                options.Password.RequireUppercase = false;
                options.Password.RequireNonAlphanumeric = false;
                options.Lockout.MaxFailedAccessAttempts = FailedLogins.Most;
                options.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(5);
            })
            .AddRoles<IdentityRole<Guid>>()
            .AddEntityFrameworkStores<ClinicContext>()
            .AddClaimsPrincipalFactory<ClinicClaims>()
            .AddSignInManager();
        services.AddSingleton<FailedLogins>();
        services.AddScoped<PasswordSignIn>();
        services.AddDataProtection().SetApplicationName("StagedMargins").PersistKeysToDbContext<ClinicContext>();
        Policies.Add(services.AddAuthorizationBuilder());
    }

    /// <summary>Puts the clinic of who is signed in into scope, so that nothing of another is seen.</summary>
    public static void UseClinicScope(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        context.RequestServices.GetRequiredService<ClinicScope>().ClinicId = CurrentPerson.From(context.User)?.ClinicId ?? Guid.Empty;
        return next(context);
    });

    /// <summary>
    /// Lets the API answer in JSON whatever the caller says it accepts: it has no other form for a refusal, and one without
    /// words helps nobody.
    /// </summary>
    public static void UseJsonRefusals(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        if (context.Request.Path.StartsWithSegments("/api", StringComparison.OrdinalIgnoreCase))
        {
            context.Request.Headers.Accept = default;
        }

        return next(context);
    });

    private static string? DetailFor(int? status) => status switch
    {
        StatusCodes.Status401Unauthorized => "Sign in first: POST /api/auth/login, then send its accessToken as a bearer token.",
        StatusCodes.Status403Forbidden => "Your role does not allow this. Ask someone whose role does, or the administrator.",
        StatusCodes.Status404NotFound => "There is nothing at this address.",
        StatusCodes.Status405MethodNotAllowed => "This address does not take this method.",
        StatusCodes.Status413PayloadTooLarge => "A request body is at most 1 MiB.",
        StatusCodes.Status415UnsupportedMediaType => "Send the body as application/json.",
        StatusCodes.Status500InternalServerError => "Something went wrong in the program; nothing of this request was kept. Try again, and tell whoever keeps the service.",
        _ => null,
    };
}
