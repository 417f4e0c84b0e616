using Scalar.AspNetCore;

namespace StagedMargins.Web.Hosting;

/// <summary>Headers of every answer that keep a browser from doing more with it than is meant.</summary>
public static class SecurityHeaders
{
    private const string Content =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'self'; frame-ancestors 'none'";

    private const string Features =
        "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=(), publickey-credentials-create=(self), publickey-credentials-get=(self)";

    /// <summary>Sets them, on refusals too.</summary>
    public static void UseSecurityHeaders(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        context.Response.OnStarting(() =>
        {
            Set(context);
            return Task.CompletedTask;
        });
        return next(context);
    });

    private static void Set(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = context.Items[ScalarOptions.NonceHttpContextItemKey] is string nonce ? OfApiDocs(nonce) : Content;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Permissions-Policy"] = Features;
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";

        // Answers hold patient data unless whoever made them knows better.
        if (headers.CacheControl.Count == 0)
        {
            headers.CacheControl = "no-store";
        }
    }

    // The page that tries the API starts by one script of its own, named by the nonce, and sets its looks while it runs.
    private static string OfApiDocs(string nonce) => Content
        .Replace("script-src 'self'", $"script-src 'self' 'nonce-{nonce}'", StringComparison.Ordinal)
        .Replace("style-src 'self'", "style-src 'self' 'unsafe-inline'", StringComparison.Ordinal)
        .Replace("font-src 'self'", "font-src 'self' data:", StringComparison.Ordinal);
}
