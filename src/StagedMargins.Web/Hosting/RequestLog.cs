using Microsoft.AspNetCore.Diagnostics;
using Serilog;
using Serilog.Events;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// One line of log a request: its route as the program knows it, never the address as it was sent, which may hold anything; the
/// case's number in the service; the status; the time.
/// </summary>
public static class RequestLog
{
    /// <summary>Writes the lines.</summary>
    public static void UseRequestLog(this IApplicationBuilder app) => app.UseSerilogRequestLogging(options =>
    {
        options.MessageTemplate = "HTTP {RequestMethod:l} {Route:l} {CaseId:l} responded {StatusCode} in {Elapsed:0.0} ms";
        options.GetMessageTemplateProperties = (context, _, elapsed, status) =>
        [
            new LogEventProperty("RequestMethod", new ScalarValue(MethodOf(context.Request.Method))),
            new LogEventProperty("Route", new ScalarValue(RouteOf(context))),
            new LogEventProperty("CaseId", new ScalarValue(CaseOf(context))),
            new LogEventProperty("StatusCode", new ScalarValue(status)),
            new LogEventProperty("Elapsed", new ScalarValue(elapsed)),
        ];
    });

    // A refusal takes the route off the request, and leaves it with the refusal.
    private static string RouteOf(HttpContext context) =>
        ((context.Features.Get<IExceptionHandlerFeature>()?.Endpoint ?? context.GetEndpoint()) as RouteEndpoint)?.RoutePattern.RawText ?? "(no route)";

    private static string CaseOf(HttpContext context) =>
        Guid.TryParse((context.Features.Get<IExceptionHandlerFeature>()?.RouteValues ?? context.Request.RouteValues).GetValueOrDefault("id")?.ToString(), out var id) ? id.ToString() : "-";

    private static string MethodOf(string method) => method is "GET" or "POST" or "HEAD" or "OPTIONS" ? method : "OTHER";
}
