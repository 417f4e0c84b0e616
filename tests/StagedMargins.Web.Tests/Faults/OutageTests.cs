using Npgsql;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Faults;

/// <summary>PostgreSQL goes away under load and comes back. The service says so, waits, and goes on by itself.</summary>
public sealed class OutageTests(PostgresServer shared)
{
    private const int Writers = 6;

    [Fact]
    public async Task Writers_are_told_that_PostgreSQL_is_away_and_go_on_when_it_is_back()
    {
        await using var cluster = await PostgresCluster.StartAsync(durable: true);
        Assert.SkipWhen(cluster is null, $"No PostgreSQL programs in {PostgresCluster.Home} to stop and start.");
        await using var server = PostgresServer.On(cluster);
        await using var place = new PostgresInstallation(server);
        await place.InitializeAsync();
        await using var service = await place.Program.StartAsync();
        var surgeon = await place.Program.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var writers = Enumerable.Range(0, Writers).Select(_ => new Writer(surgeon)).ToList();
        using var stop = new CancellationTokenSource();
        var writing = writers.Select(writer => writer.RunAsync(stop.Token)).ToList();

        var outages = LongRun.Times(2, 20);
        for (var outage = 0; outage < outages; outage++)
        {
            await UntilAsync(writers, writing, writer => writer.Acknowledged.Count, service);
            await cluster.StopAsync(outage % 2 == 0 ? "immediate" : "fast");
            try
            {
                await UntilAsync(writers, writing, writer => writer.Away.Count, service);
                (await surgeon.GetAsync("/health/ready")).Expect(503);
                (await surgeon.GetAsync("/health/live")).Expect(200);
                (await surgeon.GetAsync("/api/cases")).ExpectProblem(503).Header("Retry-After").ShouldBe("2");
            }
            finally
            {
                await cluster.StartAgainAsync();
            }
        }

        await UntilAsync(writers, writing, writer => writer.Acknowledged.Count, service);
        (await surgeon.GetAsync("/health/ready")).Expect(200);
        await stop.CancelAsync();
        await Task.WhenAll(writing);
        writers.SelectMany(writer => writer.Away).ShouldAllBe(reply => reply.ExpectProblem(503, null).Header("Retry-After") == "2");
        var answered = writers.Sum(writer => writer.Acknowledged.Count);
        foreach (var writer in writers)
        {
            writer.IsGone.ShouldBeFalse();
            if (writer.IsInDoubt)
            {
                await writer.SettleAsync();
            }

            await writer.ReplayAsync();
            await writer.CheckCasesAsync();
        }

        var verified = await place.Program.RunAsync("verify");
        verified.Code.ShouldBe(0, verified.Output + verified.Errors);
        LongRun.Say($"{outages} outages, {answered} writes answered and found again, {writers.Sum(writer => writer.Away.Count)} answered with 503");
    }

    [Fact]
    public async Task A_frozen_PostgreSQL_counts_as_away_within_ten_seconds_and_the_service_goes_on_when_it_thaws()
    {
        await using var cluster = await PostgresCluster.StartAsync(durable: true);
        Assert.SkipWhen(cluster is null, $"No PostgreSQL programs in {PostgresCluster.Home} to freeze.");
        await using var server = PostgresServer.On(cluster);
        await using var place = new PostgresInstallation(server);
        await place.InitializeAsync();
        await using var service = await place.Program.StartAsync();
        var surgeon = await place.Program.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var id = await surgeon.OpenWithLayerAsync();
        var longest = TimeSpan.FromSeconds(10);

        await cluster.FreezeAsync();
        try
        {
            // Those that have a connection and those that want a new one.
            var waiting = Enumerable.Range(0, 12).Select(i => i % 2 == 0 ? surgeon.ReadAsync(id, 1, "A", Some.Clear()) : surgeon.GetAsync($"/api/cases/{id}/margins")).ToList();
            (await surgeon.GetAsync("/health/live").WaitAsync(TimeSpan.FromSeconds(2), TestContext.Current.CancellationToken)).Expect(200);
            foreach (var reply in await Task.WhenAll(waiting).WaitAsync(longest, TestContext.Current.CancellationToken))
            {
                reply.ExpectProblem(503).Header("Retry-After").ShouldBe("2");
            }

            (await surgeon.GetAsync("/health/ready").WaitAsync(longest, TestContext.Current.CancellationToken)).Expect(503);
        }
        finally
        {
            await cluster.ThawAsync();
        }

        (await surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await surgeon.GetAsync("/health/ready")).Expect(200);
    }

    [Fact]
    public async Task A_database_that_can_only_be_read_is_said_to_be_so_until_it_can_be_written()
    {
        await using var place = new PostgresInstallation(shared);
        await place.InitializeAsync();
        await using var service = place.Program.StartHost();
        var surgeon = await service.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var id = await surgeon.OpenWithLayerAsync();

        await SetReadOnlyAsync(place.Database, "on");
        var refused = await OtherThanAsync(surgeon, "urn:stagedmargins:problem:databaseAway");
        refused.ExpectProblem(503).Text("type").ShouldBe("urn:stagedmargins:problem:recordReadOnly");
        refused.Header("Retry-After").ShouldBe("2");
        (await surgeon.CaseAsync(id)).At("stages")!.AsArray().Count.ShouldBe(1);

        await SetReadOnlyAsync(place.Database, "off");
        (await OtherThanAsync(surgeon, "urn:stagedmargins:problem:databaseAway")).Expect(201);
    }

    // Sessions take the setting when they begin, so those there are ended; the service meets their loss first. The session that
    // ends them must not be one that the service gets next.
    private static async Task SetReadOnlyAsync(TestDatabase database, string onOrOff)
    {
        await using var connection = new NpgsqlConnection($"{database.Connection};Pooling=false;Options=-c default_transaction_read_only=off");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using var command = new NpgsqlCommand(
            $"""
            DO $$ BEGIN EXECUTE format('ALTER DATABASE %I SET default_transaction_read_only = {onOrOff}', current_database()); END $$;
            SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid();
            """,
            connection);
        await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
    }

    private static async Task<Reply> OtherThanAsync(Caller surgeon, string type)
    {
        for (var tries = 0; ; tries++)
        {
            var reply = await surgeon.PostAsync("/api/cases", Some.Case());
            if (reply.Status == 201 || tries == 200 || reply.Text("type") != type)
            {
                return reply;
            }
        }
    }

    // Every writer is past where it was: it has a further answer of that kind.
    private static async Task UntilAsync(List<Writer> writers, List<Task> writing, Func<Writer, int> count, ServiceProcess service)
    {
        var before = writers.Select(count).ToList();
        for (var waited = 0; writers.Select(count).Zip(before).Any(pair => pair.First <= pair.Second); waited++)
        {
            waited.ShouldBeLessThan(3600, $"A writer did not get on.\n{service.Output}{service.Errors}");
            if (writing.Find(task => task.IsCompleted) is { } ended)
            {
                Assert.Fail($"A writer ended: {ended.Exception?.Message ?? "the service did not answer it"}\n{service.Output}{service.Errors}");
            }

            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }
}
