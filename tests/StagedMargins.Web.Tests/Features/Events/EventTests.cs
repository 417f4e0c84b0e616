using System.Diagnostics;
using System.Net.ServerSentEvents;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Events;

/// <summary>Changes as they happen: at once, between copies of the service, and never to another clinic or role.</summary>
[Collection<OnPostgres>]
public sealed class EventTests(PostgresClinic clinic)
{
    // What the screens promise: every open screen is current within a second.
    private static readonly TimeSpan AtOnce = TimeSpan.FromSeconds(1);

    [Fact]
    public async Task A_change_in_one_copy_of_the_service_is_heard_in_another_within_a_second()
    {
        await using var other = ServiceHost.Start(clinic.Database);
        var there = await other.Stranger().SignInAsync(TestClinic.HistotechEmail, TestClinic.Password);
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        using var answer = await OpenAsync(other.Address, there);
        await using var heard = await ListenAsync(answer);

        // The first change after a start also warms the way up; the promise is held by the second.
        (await clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        await NextChangeOfAsync(heard, id);
        (await clinic.Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        var since = Stopwatch.StartNew();
        var change = await NextChangeOfAsync(heard, id);

        since.Elapsed.ShouldBeLessThan(AtOnce);
        change["version"]!.GetValue<int>().ShouldBe((await there.CaseAsync(id)).Version());
        change.Select(field => field.Key).ShouldBe(["caseId", "version"]);
    }

    [Fact]
    public async Task A_change_of_settings_is_told_to_every_open_screen_in_every_copy()
    {
        await using var other = ServiceHost.Start(clinic.Database);
        var there = await other.Stranger().SignInAsync(TestClinic.HistotechEmail, TestClinic.Password);
        using var answer = await OpenAsync(other.Address, there);
        await using var heard = await ListenAsync(answer);
        (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "overlapMinutes": 25 }"""))).Expect(200);
        (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "overlapMinutes": 15 }"""))).Expect(200);
        do
        {
            (await heard.MoveNextAsync()).ShouldBeTrue();
        }
        while (heard.Current.EventType is "alive" or "changed");
        heard.Current.EventType.ShouldBe("settings");
    }

    [Fact]
    public async Task A_manager_or_a_stranger_hears_nothing()
    {
        (await clinic.Stranger.GetAsync("/api/events")).ExpectProblem(401);
        (await clinic.Manager.GetAsync("/api/events")).ExpectProblem(403);
    }

    private static Task<HttpResponseMessage> OpenAsync(Uri address, Caller caller)
    {
        var http = new HttpClient { BaseAddress = address };
        http.DefaultRequestHeaders.Authorization = new("Bearer", caller.Token);
        return http.GetAsync("/api/events", HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
    }

    private static async Task<IAsyncEnumerator<SseItem<string>>> ListenAsync(HttpResponseMessage answer)
    {
        var stream = await answer.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken);
        var heard = SseParser.Create(stream).EnumerateAsync(TestContext.Current.CancellationToken).GetAsyncEnumerator(TestContext.Current.CancellationToken);
        (await heard.MoveNextAsync()).ShouldBeTrue();
        heard.Current.EventType.ShouldBe("listening");
        return heard;
    }

    private static async Task<JsonObject> NextChangeOfAsync(IAsyncEnumerator<SseItem<string>> heard, string id)
    {
        while (await heard.MoveNextAsync().AsTask().WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken))
        {
            if (heard.Current.EventType == "changed" && JsonNode.Parse(heard.Current.Data) is JsonObject change && change["caseId"]!.GetValue<string>() == id)
            {
                return change;
            }
        }

        throw new InvalidOperationException("The stream ended.");
    }
}
