using System.Globalization;
using Microsoft.AspNetCore.Routing.Patterns;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.AccessLog;

/// <summary>Notes in the access log each answer that showed a case: every GET under it, whichever route is added later, and what says so itself.</summary>
/// <param name="log">The access log.</param>
public sealed class AccessLogFilter(AccessLogWriter log) : IEndpointFilter
{
    private const string CaseKey = "id";

    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var result = await next(context);
        var http = context.HttpContext;
        if (http.GetEndpoint() is RouteEndpoint route && Shows(http, route)
            && result is not IStatusCodeHttpResult { StatusCode: >= StatusCodes.Status400BadRequest }
            && Guid.TryParse(http.Request.RouteValues.GetValueOrDefault(CaseKey)?.ToString(), out var caseId)
            && CurrentPerson.From(http.User) is { } person)
        {
            log.Note(person, caseId, WhatOf(http));
        }

        return result;
    }

    /// <summary>What of a case an address shows: <c>case</c>, or the part behind the case, with numbers filled in and nothing else that a caller wrote.</summary>
    public static string WhatOf(HttpContext http)
    {
        var parts = ((RouteEndpoint)http.GetEndpoint()!).RoutePattern.PathSegments
            .SkipWhile(segment => !segment.Parts.OfType<RoutePatternParameterPart>().Any(part => string.Equals(part.Name, CaseKey, StringComparison.OrdinalIgnoreCase)))
            .Skip(1)
            .Select(segment => string.Concat(segment.Parts.Select(part => part switch
            {
                RoutePatternLiteralPart literal => literal.Content,
                RoutePatternSeparatorPart separator => separator.Content,
                RoutePatternParameterPart parameter => NumberOf(http.Request.RouteValues[parameter.Name]) ?? $"{{{parameter.Name}}}",
                _ => "",
            })));
        return string.Join('/', parts) is { Length: > 0 } what ? what : "case";
    }

    private static bool Shows(HttpContext http, RouteEndpoint route) =>
        route.Metadata.GetMetadata<ShowsCase>()?.Shows ?? HttpMethods.IsGet(http.Request.Method);

    private static string? NumberOf(object? value) =>
        int.TryParse(value?.ToString(), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number.ToString(CultureInfo.InvariantCulture) : null;
}
