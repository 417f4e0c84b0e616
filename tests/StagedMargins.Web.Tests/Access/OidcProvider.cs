using System.Buffers.Text;
using System.Collections.Concurrent;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Extensions.Logging;

namespace StagedMargins.Web.Tests.Access;

/// <summary>
/// A small OpenID Connect provider for tests: discovery, keys, authorisation code with PKCE (RFC 7636) and a signed id token
/// (OpenID Connect Core 1.0 section 2). Whoever comes is the person that the test has put at its screen.
/// </summary>
public sealed class OidcProvider : IAsyncDisposable
{
    public const string ClientId = "margins";
    public const string ClientSecret = "a secret of the tests";

    private readonly RSA key = RSA.Create(2048);
    private readonly RSA otherKey = RSA.Create(2048);
    private readonly ConcurrentDictionary<string, (string Nonce, string Challenge, string RedirectUri)> codes = new();
    private readonly WebApplication app;

    private OidcProvider(WebApplication app)
    {
        this.app = app;
    }

    /// <summary>Its address.</summary>
    public string Authority => app.Urls.First();

    /// <summary>Who is at its screen.</summary>
    public (string Subject, string? Email, bool? Verified) Person { get; set; } = ("s-1", null, null);

    /// <summary>True to sign with a key that it does not publish.</summary>
    public bool Forges { get; set; }

    public static async Task<OidcProvider> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var provider = new OidcProvider(builder.Build());
        provider.Map();
        await provider.app.StartAsync();
        return provider;
    }

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        key.Dispose();
        otherKey.Dispose();
    }

    private void Map()
    {
        app.MapGet("/.well-known/openid-configuration", () => Results.Json(new
        {
            issuer = Authority,
            authorization_endpoint = $"{Authority}/authorize",
            token_endpoint = $"{Authority}/token",
            jwks_uri = $"{Authority}/keys",
            response_types_supported = new[] { "code" },
            subject_types_supported = new[] { "public" },
            id_token_signing_alg_values_supported = new[] { "RS256" },
        }));
        app.MapGet("/keys", () =>
        {
            var parameters = key.ExportParameters(false);
            return Results.Json(new { keys = new[] { new { kty = "RSA", use = "sig", kid = "1", alg = "RS256", n = Base64Url.EncodeToString(parameters.Modulus), e = Base64Url.EncodeToString(parameters.Exponent) } } });
        });
        app.MapGet("/authorize", (HttpRequest request) =>
        {
            var query = request.Query;
            if (query["client_id"] != ClientId || query["response_type"] != "code" || query["code_challenge_method"] != "S256")
            {
                return Results.BadRequest();
            }

            var code = RandomNumberGenerator.GetHexString(32);
            codes[code] = (query["nonce"]!, query["code_challenge"]!, query["redirect_uri"]!);
            return Results.Redirect(QueryHelpers.AddQueryString(query["redirect_uri"]!, new Dictionary<string, string?> { ["code"] = code, ["state"] = query["state"] }));
        });
        app.MapPost("/token", async (HttpRequest request) =>
        {
            var form = await request.ReadFormAsync();
            var verifier = Base64Url.EncodeToString(SHA256.HashData(Encoding.ASCII.GetBytes(form["code_verifier"].ToString())));
            return codes.TryRemove(form["code"].ToString(), out var asked) && asked.Challenge == verifier && asked.RedirectUri == form["redirect_uri"]
                && form["client_id"] == ClientId && form["client_secret"] == ClientSecret
                ? Results.Json(new { access_token = "not used", token_type = "Bearer", expires_in = 60, id_token = IdToken(asked.Nonce) })
                : Results.BadRequest(new { error = "invalid_grant" });
        });
    }

    private string IdToken(string nonce)
    {
        var now = TimeProvider.System.GetUtcNow().ToUnixTimeSeconds();
        var claims = new Dictionary<string, object> { ["iss"] = Authority, ["sub"] = Person.Subject, ["aud"] = ClientId, ["iat"] = now, ["exp"] = now + 60, ["nonce"] = nonce };
        if (Person.Email is { } email)
        {
            claims["email"] = email;
        }

        if (Person.Verified is { } verified)
        {
            claims["email_verified"] = verified;
        }

        var text = string.Create(CultureInfo.InvariantCulture, $"{Part(new { alg = "RS256", kid = "1", typ = "JWT" })}.{Part(claims)}");
        return $"{text}.{Base64Url.EncodeToString((Forges ? otherKey : key).SignData(Encoding.ASCII.GetBytes(text), HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1))}";
    }

    private static string Part(object part) => Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(part));
}
