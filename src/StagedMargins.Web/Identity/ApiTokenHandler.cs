using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Identity;

/// <summary>Lets another system in by its token, looked up on each request so that a revoked one ends at once.</summary>
/// <param name="options">Options of the scheme.</param>
/// <param name="logger">The log.</param>
/// <param name="encoder">Not used.</param>
/// <param name="db">The record.</param>
/// <param name="clock">The clock.</param>
public sealed class ApiTokenHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, ClinicContext db, TimeProvider clock)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    /// <summary>The scheme's name.</summary>
    public const string SchemeName = "ApiToken";

    private const string Bearer = "Bearer ";
    private static readonly TimeSpan UseIsNotedEvery = TimeSpan.FromMinutes(1);

    /// <summary>True where a request brings such a token.</summary>
    public static bool IsApiToken(HttpRequest request) =>
        request.Headers.Authorization.ToString().StartsWith(Bearer + ApiToken.Prefix, StringComparison.OrdinalIgnoreCase);

    /// <inheritdoc/>
    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var hash = ApiToken.HashOf(Request.Headers.Authorization.ToString()[Bearer.Length..].Trim());
        var now = clock.GetUtcNow().UtcDateTime;

        // No clinic is in scope yet: the token says which.
        var token = await db.ApiTokens.IgnoreQueryFilters().AsNoTracking()
            .SingleOrDefaultAsync(known => known.Hash == hash && known.RevokedUtc == null && (known.ExpiresUtc == null || known.ExpiresUtc > now), Context.RequestAborted);
        if (token is null)
        {
            return AuthenticateResult.Fail("This token is unknown, expired or revoked.");
        }

        if (token.LastUsedUtc is null || now - token.LastUsedUtc >= UseIsNotedEvery)
        {
            await db.ApiTokens.IgnoreQueryFilters().Where(known => known.ClinicId == token.ClinicId && known.Id == token.Id)
                .ExecuteUpdateAsync(set => set.SetProperty(known => known.LastUsedUtc, now), Context.RequestAborted);
        }

        return AuthenticateResult.Success(new AuthenticationTicket(PrincipalOf(token), SchemeName));
    }

    private static ClaimsPrincipal PrincipalOf(ApiToken token) => new(new ClaimsIdentity(
        [
            new Claim(ClaimTypes.NameIdentifier, token.Id.ToString()),
            new Claim(ClaimTypes.Name, token.Name),
            new Claim(CurrentPerson.ClinicClaim, token.ClinicId.ToString()),
            new Claim(CurrentPerson.ApiTokenClaim, token.Id.ToString()),
            .. token.RoleWords.Split(' ').Select(role => new Claim(ClaimTypes.Role, role)),
        ],
        SchemeName));
}
