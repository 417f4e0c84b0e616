using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using StagedMargins.Storage;

namespace StagedMargins.Web.Writing;

/// <summary>
/// Carries changes between processes over PostgreSQL: NOTIFY goes out with the transaction that made the change, and whoever
/// listens hears it once the change can be read.
/// </summary>
/// <param name="scopes">To find the database.</param>
/// <param name="events">Who listens in this process.</param>
/// <param name="log">The log.</param>
public sealed partial class PostgresEvents(IServiceScopeFactory scopes, CaseEvents events, ILogger<PostgresEvents> log) : BackgroundService
{
    private const string Channel = "case_changed";
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    /// <summary>Says within the transaction at hand that a case changes.</summary>
    public static Task NotifyAsync(ClinicContext db, CaseChanged happened, CancellationToken cancel)
    {
        var payload = FormattableString.Invariant($"{happened.ClinicId:N} {happened.CaseId:N} {happened.Version}");
        return db.Database.ExecuteSqlAsync($"SELECT pg_notify({Channel}, {payload})", cancel);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var connection = ConnectionString();
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await ListenAsync(connection, stoppingToken);
            }
            catch (Exception e) when (e is NpgsqlException or IOException or System.Net.Sockets.SocketException)
            {
                LogAway(log);
                await Task.Delay(Pause, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
            catch (OperationCanceledException)
            {
                return;
            }
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
            await listening.WaitAsync(cancel);
        }
    }

    private void Hear(string payload)
    {
        if (payload.Split(' ') is [var clinic, var id, var version] && Guid.TryParseExact(clinic, "N", out var clinicId)
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
