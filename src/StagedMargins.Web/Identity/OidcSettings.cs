using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using Microsoft.AspNetCore.Identity;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Identity;

/// <summary>
/// Sign-in by the clinic's own OpenID Connect provider, where the settings <c>Oidc:Authority</c>, <c>Oidc:ClientId</c> and
/// <c>Oidc:ClientSecret</c> name one. The provider is to allow the address <c>/api/auth/oidc/callback</c>.
/// </summary>
public static class OidcSettings
{
    /// <summary>The scheme's name.</summary>
    public const string SchemeName = "oidc";

    /// <summary>The claim that says the provider has checked the address.</summary>
    public const string EmailVerified = "email_verified";

    /// <summary>The provider, or null where none is set.</summary>
    public static string? Authority(IConfiguration settings) => settings["Oidc:Authority"] is { Length: > 0 } authority ? authority : null;

    /// <summary>Adds the scheme where a provider is set.</summary>
    /// <exception cref="StartFailureException">A setting is missing or wrong.</exception>
    public static void AddOidc(this AuthenticationBuilder authentication, IConfiguration settings, bool isDemo)
    {
        if (Authority(settings) is not { } authority)
        {
            return;
        }

        if (!Uri.TryCreate(authority, UriKind.Absolute, out var provider) || !(provider.Scheme == Uri.UriSchemeHttps || provider.IsLoopback))
        {
            throw new StartFailureException("Oidc:Authority must be an https address.");
        }

        var (client, secret) = (settings["Oidc:ClientId"], settings["Oidc:ClientSecret"]);
        if (string.IsNullOrEmpty(client) || string.IsNullOrEmpty(secret))
        {
            throw new StartFailureException("Oidc:Authority is set, so Oidc:ClientId and Oidc:ClientSecret are needed too.");
        }

        authentication
            .AddCookie(IdentityConstants.ExternalScheme, options => Sessions.Passing(options, "stagedmargins.oidc", SameSiteMode.Lax, isDemo))
            .AddOpenIdConnect(SchemeName, options =>
            {
                (options.Authority, options.ClientId, options.ClientSecret) = (authority, client, secret);
                options.RequireHttpsMetadata = provider.Scheme == Uri.UriSchemeHttps;
                Ask(options);
                Guard(options.CorrelationCookie, isDemo);
                Guard(options.NonceCookie, isDemo);
            });
    }

    private static void Ask(OpenIdConnectOptions options)
    {
        options.SignInScheme = IdentityConstants.ExternalScheme;
        options.CallbackPath = "/api/auth/oidc/callback";
        options.ResponseType = OpenIdConnectResponseType.Code;

        // The answer comes back by a plain redirect: a posted one would need cookies that any site may send along.
        options.ResponseMode = OpenIdConnectResponseMode.Query;
        options.UsePkce = true;
        options.SaveTokens = false;
        options.MapInboundClaims = false;
        options.GetClaimsFromUserInfoEndpoint = true;
        options.Scope.Add("email");
        options.ClaimActions.MapUniqueJsonKey(EmailVerified, EmailVerified);
        options.Events.OnRemoteFailure = _ => throw Failed();
    }

    /// <summary>The refusal of a sign-in that the provider did not confirm.</summary>
    public static NotSignedInException Failed() => new("oidcFailed", "The sign-in with the organisation's provider failed. Start again.");

    private static void Guard(CookieBuilder cookie, bool isDemo)
    {
        cookie.SameSite = SameSiteMode.Lax;
        cookie.SecurePolicy = isDemo ? CookieSecurePolicy.SameAsRequest : CookieSecurePolicy.Always;
    }
}
