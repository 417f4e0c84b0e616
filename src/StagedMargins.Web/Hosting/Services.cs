using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http.Json;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection.Extensions;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.AccessLog;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Hosting;

/// <summary>What the host is made of.</summary>
public static class Services
{
    /// <summary>The pages.</summary>
    public static void AddScreens(this IServiceCollection services)
    {
        services.AddRazorComponents();
        services.AddCascadingAuthenticationState();
    }

    /// <summary>How requests are read and refusals are said.</summary>
    public static void AddApi(this IServiceCollection services)
    {
        services.Configure<JsonOptions>(options => ApiJson.Configure(options.SerializerOptions));
        services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
        services.AddExceptionHandler<ProblemHandler>();
        services.AddProblemDetails(options => options.CustomizeProblemDetails = context => context.ProblemDetails.Detail ??= DetailFor(context.ProblemDetails.Status));
        services.AddHttpContextAccessor();
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton<SqliteWriteLimiter>();
        services.AddScoped<CaseWriter>();
        services.AddSingleton<AnswerExpiry>();
        services.AddHostedService(provider => provider.GetRequiredService<AnswerExpiry>());
        services.AddSingleton<AccessLogWriter>();
        services.AddHostedService(provider => provider.GetRequiredService<AccessLogWriter>());
    }

    /// <summary>Who may come in.</summary>
    public static void AddSignIn(this IServiceCollection services, IConfiguration settings, bool isDemo)
    {
        services.AddSessions(settings, isDemo).AddOidc(settings, isDemo);
        services.AddForgeryGuard();
        services.AddIdentityCore<Person>(options =>
            {
                options.User.RequireUniqueEmail = true;
                options.Lockout.MaxFailedAccessAttempts = FailedLogins.MostOfAddress;
                options.Lockout.DefaultLockoutTimeSpan = FailedLogins.Window;
            })
            .AddRoles<IdentityRole<Guid>>()
            .AddEntityFrameworkStores<ClinicContext>()
            .AddClaimsPrincipalFactory<ClinicClaims>()
            .AddTokenProvider<TotpCodes>(TokenOptions.DefaultAuthenticatorProvider)
            .AddSignInManager();
        services.Configure<IdentityPasskeyOptions>(options =>
        {
            options.ServerDomain = settings["Passkeys:Domain"];
            options.UserVerificationRequirement = "required";
            options.ResidentKeyRequirement = "required";
        });
        // The framework's own rules ask for signs of given kinds; these replace them.
        services.Replace(ServiceDescriptor.Scoped<IPasswordValidator<Person>, PasswordRules>());
        services.AddSingleton<FailedLogins>();
        services.AddScoped<PasswordSignIn>();
        services.AddDataProtection().SetApplicationName("StagedMargins").PersistKeysToDbContext<ClinicContext>();
        Policies.Add(services.AddAuthorizationBuilder());
    }

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
        StatusCodes.Status404NotFound => "Nothing was found at this address.",
        StatusCodes.Status405MethodNotAllowed => "This address does not support this method.",
        StatusCodes.Status400BadRequest => "The request can't be read.",
        StatusCodes.Status406NotAcceptable => "This is not available in a format that the Accept header allows.",
        StatusCodes.Status412PreconditionFailed => "The current version does not match If-Match.",
        StatusCodes.Status416RangeNotSatisfiable => "The requested range does not exist.",
        StatusCodes.Status413PayloadTooLarge => "A request body may be at most 1 MiB; a bundle for import, 16 MiB.",
        StatusCodes.Status415UnsupportedMediaType => "Send the body as application/json.",
        StatusCodes.Status504GatewayTimeout => "The request took too long. It may or may not have been written: read the case again before sending anything again.",
        StatusCodes.Status500InternalServerError => "Something went wrong in the program; nothing from this request was kept. Try again, and tell the operator.",
        _ => null,
    };
}
