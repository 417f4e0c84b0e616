using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Npgsql;

namespace StagedMargins.Benchmarks.Service;

/// <summary>What PostgreSQL itself commits of the same statements in the same order, with the same notifications, on one ledger head: pgbench, which does nothing else.</summary>
internal static partial class PgBench
{
    // As the program sends them for a reading; the values that it computes stand here as random ones of the same size.
    private const string Script = """
        \set n random(1, :cases)
        BEGIN;
        SELECT case_id, clinic_id FROM load_cases WHERE n = :n::bigint \gset
        SELECT 1 FROM cases WHERE clinic_id = :clinic_id::uuid AND case_id = :case_id::uuid FOR UPDATE;
        SELECT max(subject_number) + 1 AS next FROM (SELECT number, subject_number, kind, form, at, at_offset, by_id, by_name, origin, body, hash FROM ledger_entries WHERE clinic_id = :clinic_id::uuid AND subject_kind = 'case' AND subject_id = :case_id::uuid AND subject_number >= (SELECT last FROM load_cases WHERE n = :n::bigint) ORDER BY subject_number) AS rows \gset
        SELECT number + 1 AS number, encode(hash, 'hex') AS hash FROM ledger_heads WHERE clinic_id = :clinic_id::uuid AND stream = 'record' FOR UPDATE \gset
        SELECT number, hash FROM ledger_entries WHERE clinic_id = :clinic_id::uuid AND stream = 'record' ORDER BY epoch DESC, number DESC LIMIT 1;
        UPDATE cases SET version = :next::bigint, changed_utc = now(), patient_ref = sha256('a'), site_detail = sha256('b') WHERE clinic_id = :clinic_id::uuid AND case_id = :case_id::uuid;
        INSERT INTO kept_answers (clinic_id, person_id, key, request_print, case_id, first, last, status, at, at_offset) VALUES (:clinic_id::uuid, gen_random_uuid(), 'load-1-1', 'bench1:0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef', :case_id::uuid, :next::int, :next::int, 201, now(), -240);
        INSERT INTO ledger_entries (clinic_id, stream, epoch, number, subject_kind, subject_id, subject_number, kind, form, request_id, at, at_offset, by_id, by_name, origin, body, previous_hash, key_id, hash) VALUES (:clinic_id::uuid, 'record', 1, :number::bigint, 'case', :case_id::uuid, :next::bigint, 'recordReading', 1, gen_random_uuid(), now(), -240, gen_random_uuid(), 'Surgeon of the load run <surgeon@load.invalid>', NULL, repeat('x', 200), decode(:hash::text, 'hex'), 'bench1', sha256(:hash::text::bytea));
        UPDATE ledger_heads SET number = :number::bigint, hash = sha256(:hash::text::bytea) WHERE clinic_id = :clinic_id::uuid AND stream = 'record';
        COMMIT;
        SELECT pg_notify('case_changed', :case_id::text);
        """;

    /// <summary>Runs it on a database that a load run has filled.</summary>
    /// <param name="connection">The database.</param>
    /// <param name="clients">How many connections.</param>
    /// <param name="duration">For how long.</param>
    /// <returns>Transactions a second.</returns>
    internal static async Task<double> RunAsync(string connection, int clients, TimeSpan duration)
    {
        var settings = new NpgsqlConnectionStringBuilder(connection);
        long cases;
        await using (var db = new NpgsqlConnection(connection))
        {
            await db.OpenAsync();
            await using var fill = new NpgsqlCommand(
                "CREATE TABLE load_cases AS SELECT row_number() OVER () AS n, clinic_id, case_id, version AS last FROM cases; CREATE UNIQUE INDEX ON load_cases (n); ANALYZE load_cases; SELECT count(*) FROM load_cases", db);
            cases = (long)(await fill.ExecuteScalarAsync())!;
        }

        var script = Path.GetTempFileName();
        await File.WriteAllTextAsync(script, Script);
        var start = new ProcessStartInfo("pgbench", [
            "-h", settings.Host!, "-p", settings.Port.ToString(CultureInfo.InvariantCulture), "-U", settings.Username!, "-n", "-M", "prepared",
            "-c", clients.ToString(CultureInfo.InvariantCulture), "-j", "2", "-T", duration.TotalSeconds.ToString(CultureInfo.InvariantCulture),
            "-D", FormattableString.Invariant($"cases={cases}"), "-f", script, settings.Database!,
        ]) { RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        File.Delete(script);
        return double.Parse(TransactionsPerSecond().Match(output).Groups[1].Value, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"tps = ([0-9.]+)")]
    private static partial Regex TransactionsPerSecond();
}
