using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Evidence;

/// <summary>Marks the routes by which a second reader answers, and which show nothing of the case.</summary>
public sealed record OpenToBlindReader;

/// <summary>Keeps a case from who is still to read a block of it blind: every route under it, whichever is added later.</summary>
/// <param name="db">The record.</param>
public sealed class BlindReadFilter(ClinicContext db) : IEndpointFilter
{
    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var http = context.HttpContext;
        if (http.GetEndpoint()?.Metadata.GetMetadata<OpenToBlindReader>() is null
            && Guid.TryParse(http.Request.RouteValues.GetValueOrDefault("id")?.ToString(), out var caseId)
            && CurrentPerson.From(http.User) is { } person
            && await db.SecondReads.AnyAsync(
                read => read.CaseId == caseId && read.ReaderId == person.Id && !read.IsAnswered,
                http.RequestAborted))
        {
            throw new RuleViolationException("blindReader", "You have been asked to read a block of this case blind. Give your reading, or hand the task back, to open the case.");
        }

        return await next(context);
    }
}
