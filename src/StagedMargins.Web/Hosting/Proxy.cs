using System.Net;
using Microsoft.AspNetCore.HttpOverrides;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// A proxy in front that speaks TLS: <c>Proxy:KnownProxies</c> names its addresses, <c>Proxy:KnownNetworks</c> its networks, commas
/// between. Only what comes from there is believed about the caller's address and the scheme; without the settings nothing is.
/// </summary>
public static class Proxy
{
    /// <summary>Believes the proxies that the settings name.</summary>
    /// <exception cref="StartFailureException">A setting is no address or network.</exception>
    public static void UseProxy(this WebApplication app)
    {
        var options = new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto, ForwardLimit = null };
        options.KnownProxies.Clear();
        options.KnownIPNetworks.Clear();
        foreach (var text in ListOf(app.Configuration, "Proxy:KnownProxies"))
        {
            options.KnownProxies.Add(IPAddress.TryParse(text, out var address) ? address : throw Wrong("Proxy:KnownProxies", text, "an address such as 10.0.0.5"));
        }

        foreach (var text in ListOf(app.Configuration, "Proxy:KnownNetworks"))
        {
            options.KnownIPNetworks.Add(System.Net.IPNetwork.TryParse(text, out var network) ? network : throw Wrong("Proxy:KnownNetworks", text, "a network such as 10.0.0.0/24"));
        }

        if (options.KnownProxies.Count + options.KnownIPNetworks.Count > 0)
        {
            app.UseForwardedHeaders(options);
        }
    }

    private static string[] ListOf(IConfiguration settings, string key) =>
        (settings[key] ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static StartFailureException Wrong(string key, string text, string wanted) => new($"{key} holds '{text}', which is not {wanted}.");
}
