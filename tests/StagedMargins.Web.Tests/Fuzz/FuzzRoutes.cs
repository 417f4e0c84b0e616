using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;

namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>An address of the service.</summary>
/// <param name="Method">The method it takes.</param>
/// <param name="Pattern">The path with its parameters in braces.</param>
public sealed partial record FuzzRoute(string Method, string Pattern)
{
    /// <summary>True for a write of a case: answered with 200 or 201, it adds one row to a history.</summary>
    public bool WritesCase => Method == "POST" && Pattern.StartsWith("/api/cases", StringComparison.Ordinal) && !Pattern.EndsWith("/rehearsal", StringComparison.Ordinal);

    /// <summary>True for a file that the pages are made of.</summary>
    public bool IsFile => Method == "GET" && Path.HasExtension(Pattern) && !Pattern.StartsWith("/api", StringComparison.Ordinal);

    /// <summary>Every address that the running service has.</summary>
    public static IReadOnlyList<FuzzRoute> Of(EndpointDataSource endpoints) =>
    [
        .. (from endpoint in endpoints.Endpoints.OfType<RouteEndpoint>()
            from method in endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET"]
            select new FuzzRoute(method, $"/{endpoint.RoutePattern.RawText!.Trim('/')}")).Distinct().OrderBy(route => route.Pattern, StringComparer.Ordinal),
    ];

    /// <summary>The path with each parameter filled in.</summary>
    /// <param name="fill">The value of a parameter, by its name.</param>
    public string Filled(Func<string, string> fill) => Parameter().Replace(Pattern, parameter => fill(parameter.Groups[1].Value));

    [GeneratedRegex(@"\{\**([^:}?]*)[^}]*\}", RegexOptions.CultureInvariant)]
    private static partial Regex Parameter();
}
