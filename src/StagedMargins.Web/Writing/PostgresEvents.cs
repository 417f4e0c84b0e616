using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using StagedMargins.Core.Entries;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Writing;

/// <summary>
/// Carries changes between copies of the service over PostgreSQL. Each tells the others after it has committed, several changes at once,
/// so that no writer waits for the lock that a notification takes; and each looks at the heads of the records every second, so that a
/// change is seen even where its notification was lost.
/// </summary>
/// <param name="scopes">To find the database.</param>
/// <param name="events">Who listens in this process.</param>
/// <param name="log">The log.</param>
public sealed partial class PostgresEvents(IServiceScopeFactory scopes, CaseEvents events, ILogger<PostgresEvents> log) : BackgroundService
{
    private const string Channel = "case_changed";
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(1);

    private readonly string copy = Guid.NewGuid().ToString("N");
    private readonly Dictionary<Guid, long> seen = [];
    private bool isFirstLook = true;

    /// <inheritdoc/>
    protected override Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var connection = ConnectionString();
        return Task.WhenAll(
            KeepOnAsync(cancel => ListenAsync(connection, cancel), stoppingToken),
            KeepOnAsync(cancel => SendAsync(connection, cancel), stoppingToken));
    }

    private async Task KeepOnAsync(Func<CancellationToken, Task> work, CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await work(stoppingToken);
            }
            catch (Exception e) when (e is NpgsqlException or IOException or System.Net.Sockets.SocketException or TimeoutException)
            {
                LogAway(log);
                await Task.Delay(BetweenLooks, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    private async Task SendAsync(string connection, CancellationToken cancel)
    {
        await using var sending = new NpgsqlConnection(connection);
        await sending.OpenAsync(cancel);
        while (await events.Outgoing.WaitToReadAsync(cancel))
        {
            var payloads = new List<string>();
            while (events.Outgoing.TryRead(out var happened))
            {
                payloads.Add(FormattableString.Invariant($"{copy} {happened.ClinicId:N} {happened.CaseId:N} {happened.Version}"));
            }

            await using var command = new NpgsqlCommand("SELECT pg_notify($1, payload) FROM unnest($2) AS payload", sending)
            {
                Parameters = { new() { Value = Channel }, new() { Value = payloads.ToArray() } },
            };
            await command.ExecuteNonQueryAsync(cancel);
        }
    }

    private async Task ListenAsync(string connection, CancellationToken cancel)
    {
        await using var listening = new NpgsqlConnection(connection);
        await listening.OpenAsync(cancel);
        listening.Notification += (_, notification) => Hear(notification.Payload);
        await using (var command = new NpgsqlCommand($"LISTEN {Channel}", listening))
        {
            await command.ExecuteNonQueryAsync(cancel);
        }

        while (true)
        {
            await LookAsync(listening, cancel);
            using var pause = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            pause.CancelAfter(BetweenLooks);
            try
            {
                while (true)
                {
                    await listening.WaitAsync(pause.Token);
                }
            }
            catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
            {
                // Time to look.
            }
        }
    }

    private async Task LookAsync(NpgsqlConnection listening, CancellationToken cancel)
    {
        var moved = new List<(Guid ClinicId, long From)>();
        await using (var heads = new NpgsqlCommand("SELECT clinic_id, number FROM ledger_heads WHERE stream = $1", listening) { Parameters = { new() { Value = LedgerStreams.Record } } })
        {
            await using var rows = await heads.ExecuteReaderAsync(cancel);
            while (await rows.ReadAsync(cancel))
            {
                var (clinicId, number) = (rows.GetGuid(0), rows.GetInt64(1));
                var from = seen.GetValueOrDefault(clinicId, isFirstLook ? number : 0);
                seen[clinicId] = number;
                if (number > from)
                {
                    moved.Add((clinicId, from));
                }
            }
        }

        isFirstLook = false;
        foreach (var (clinicId, from) in moved)
        {
            await using var changes = new NpgsqlCommand(
                "SELECT subject_kind, subject_id, max(subject_number) FROM ledger_entries WHERE clinic_id = $1 AND stream = $2 AND number > $3 GROUP BY subject_kind, subject_id", listening)
            {
                Parameters = { new() { Value = clinicId }, new() { Value = LedgerStreams.Record }, new() { Value = from } },
            };
            await using var rows = await changes.ExecuteReaderAsync(cancel);
            while (await rows.ReadAsync(cancel))
            {
                if (rows.GetString(0) == EntrySubjects.Case)
                {
                    events.Publish(new CaseChanged(clinicId, rows.GetGuid(1), (int)rows.GetInt64(2)));
                }
            }
        }
    }

    // What this copy did it has told its own listeners at once.
    private void Hear(string payload)
    {
        if (payload.Split(' ') is [var from, var clinic, var id, var version] && from != copy && Guid.TryParseExact(clinic, "N", out var clinicId)
            && Guid.TryParseExact(id, "N", out var caseId) && int.TryParse(version, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            events.Publish(new CaseChanged(clinicId, caseId, number));
        }
    }

    private string ConnectionString()
    {
        using var scope = scopes.CreateScope();
        var given = scope.ServiceProvider.GetRequiredService<ClinicContext>().Database.GetConnectionString();
        // A connection that only waits is kept alive, so that a lost server is noticed.
        return new NpgsqlConnectionStringBuilder(given) { KeepAlive = 10, Pooling = false }.ToString();
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The database does not answer; changes made by other copies of the service will be seen again when it does.")]
    private static partial void LogAway(ILogger log);
}
