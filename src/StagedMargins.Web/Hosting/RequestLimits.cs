using System.Globalization;
using Microsoft.AspNetCore.Http.Timeouts;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace StagedMargins.Web.Hosting;

/// <summary>How large a request may be and how long it may take, so that no caller holds the service up.</summary>
public static class RequestLimits
{
    /// <summary>The largest request body, bytes.</summary>
    public const long LargestBody = 1024 * 1024;

    /// <summary>The largest bundle of a case that is taken over, bytes.</summary>
    public const long LargestBundle = 16 * LargestBody;

    private const int UsualSeconds = 30;
    private const int SlowestBodyBytesPerSecond = 240;
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(5);

    /// <summary>Sets the limits of the server.</summary>
    public static void OfServer(KestrelServerOptions server)
    {
        server.AddServerHeader = false;
        server.Limits.MaxRequestBodySize = LargestBody;
        server.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
        server.Limits.KeepAliveTimeout = TimeSpan.FromMinutes(2);
        server.Limits.MinRequestBodyDataRate = new MinDataRate(SlowestBodyBytesPerSecond, Grace);
        server.Limits.MinResponseDataRate = new MinDataRate(SlowestBodyBytesPerSecond, Grace);
    }

    /// <summary>Adds the time limit of a request, <c>Limits:RequestSeconds</c>; a route that lives longer says so itself.</summary>
    /// <exception cref="StartFailureException">The setting is no number of seconds.</exception>
    public static void AddRequestLimits(this IServiceCollection services, IConfiguration settings)
    {
        var text = settings["Limits:RequestSeconds"];
        var seconds = UsualSeconds;
        if (text is not null && !(int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out seconds) && seconds is >= 1 and <= 3600))
        {
            throw new StartFailureException($"Limits:RequestSeconds is '{text}'; it must be a whole number of seconds, 1 to 3600.");
        }

        services.AddRequestTimeouts(options => options.DefaultPolicy = new RequestTimeoutPolicy { Timeout = TimeSpan.FromSeconds(seconds) });
    }
}
