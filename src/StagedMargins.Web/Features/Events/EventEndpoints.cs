using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using Microsoft.AspNetCore.Http.HttpResults;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Events;

/// <summary>A change as it is sent.</summary>
/// <param name="CaseId">The case.</param>
/// <param name="Version">Its version after the change.</param>
public sealed record EventView(Guid CaseId, int Version);

/// <summary>Changes of cases as they happen, for screens that stay open.</summary>
public static class EventEndpoints
{
    private static readonly TimeSpan AliveEvery = TimeSpan.FromSeconds(15);

    /// <summary>Adds the route.</summary>
    public static void MapEvents(this IEndpointRouteBuilder routes) => routes
        .MapGet("/api/events", Listen).RequireAuthorization(Policies.SeeCase).DisableRequestTimeout().WithTags("Events")
        .WithSummary("Server-sent events: 'listening' at the start, 'changed' with caseId and version for each change of a case, 'settings' where the clinic's settings changed, 'alive' in between.");

    private static ServerSentEventsResult<EventView?> Listen(CurrentPerson person, CaseEvents events, HttpContext http, IHostApplicationLifetime lifetime, CancellationToken cancel)
    {
        http.Response.Headers["X-Accel-Buffering"] = "no";
        return TypedResults.ServerSentEvents(ChangesAsync(http, person, events, lifetime.ApplicationStopping, cancel));
    }

    private static async IAsyncEnumerable<SseItem<EventView?>> ChangesAsync(
        HttpContext http, CurrentPerson person, CaseEvents events, CancellationToken stopping, [EnumeratorCancellation] CancellationToken cancel)
    {
        using var listener = events.Listen(person.ClinicId);
        yield return new SseItem<EventView?>(null, "listening") { ReconnectionInterval = TimeSpan.FromSeconds(1) };
        while (!stopping.IsCancellationRequested && !cancel.IsCancellationRequested)
        {
            var happened = await NextAsync(listener, stopping, cancel);
            if (cancel.IsCancellationRequested || !await Sessions.IsLiveAsync(http, person))
            {
                yield break;
            }

            yield return happened switch
            {
                null => new SseItem<EventView?>(null, "alive"),
                { IsSettings: true } => new SseItem<EventView?>(null, "settings"),
                _ => new SseItem<EventView?>(new EventView(happened.CaseId, happened.Version), "changed"),
            };
        }
    }

    private static async Task<CaseChanged?> NextAsync(CaseEvents.Listener listener, CancellationToken stopping, CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(stopping, cancel);
        patience.CancelAfter(AliveEvery);
        try
        {
            return await listener.Changes.ReadAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            return null;
        }
    }
}
