using StagedMargins.Core;

namespace StagedMargins.Web.Identity;

/// <summary>Marks the routes by which a second reader answers, and which show nothing of the case.</summary>
public sealed record OpenToBlindReader;

/// <summary>Keeps a case from who is still to read a block of it blind: every route under it, whichever is added later.</summary>
public sealed class BlindReadFilter : IEndpointFilter
{
    private static readonly object IsBlind = new();

    /// <summary>The case that an address names; null where it names none.</summary>
    public static Guid? CaseIn(HttpContext http) => Guid.TryParse(http.Request.RouteValues.GetValueOrDefault("id")?.ToString(), out var caseId) ? caseId : null;

    /// <summary>Notes that whoever sent a request is still to read a block of its case blind.</summary>
    public static void Mark(HttpContext http) => http.Items[IsBlind] = true;

    /// <inheritdoc/>
    public ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var http = context.HttpContext;
        return http.Items.ContainsKey(IsBlind) && http.GetEndpoint()?.Metadata.GetMetadata<OpenToBlindReader>() is null
            ? throw new RuleViolationException("blindReader", "You have been asked to read a block of this case blind. Give your reading, or hand the task back, to open the case.")
            : next(context);
    }
}
