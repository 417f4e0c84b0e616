using Microsoft.EntityFrameworkCore;
using Npgsql;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.People;

namespace StagedMargins.Benchmarks.Audit;

/// <summary>Fills an empty record with invented summaries; without the cases they would stand for, so that a trial takes minutes.</summary>
internal static class Filling
{
    private const int Batch = 2_000;

    internal static async Task FillAsync(ClinicContext db, int count)
    {
        await db.Database.MigrateAsync();
        if (await db.Clinics.AnyAsync())
        {
            return;
        }

        db.Add(new Clinic { Id = InventedCases.Clinic, Name = "Invented clinic", TimeZone = "America/Halifax" });
        db.AddRange(Enumerable.Range(0, InventedCases.Surgeons).Select(number => new Person
        {
            Id = InventedCases.Surgeon(number),
            ClinicId = InventedCases.Clinic,
            Email = $"surgeon{number:00}@invented.invalid",
            UserName = $"surgeon{number:00}@invented.invalid",
            DisplayName = $"Surgeon {number}",
        }));
        await db.SaveChangesAsync();
        await (db.Database.IsNpgsql() ? CopyAsync((NpgsqlConnection)db.Database.GetDbConnection(), count) : InsertAsync(db, count));
    }

    private static async Task CopyAsync(NpgsqlConnection connection, int count)
    {
        await connection.OpenAsync();
        await RunAsync(connection, "SET session_replication_role = replica");
        await using (var to = await connection.BeginBinaryImportAsync("COPY audit_cases (clinic_id, case_id, case_number, ended_utc, surgeon_id, area_class, tumour, size_band, outcome, stages, blocks, cleared_stage, readings, unreadable, amendments, recuts, recall, defect_um2, lesion_um2, spared_um2) FROM STDIN (FORMAT BINARY)"))
        {
            foreach (var (c, _) in InventedCases.Make(count))
            {
                object?[] row = [c.ClinicId, c.CaseId, c.CaseNumber, c.EndedUtc, c.SurgeonId, c.AreaClass, c.Tumour, c.SizeBand, StagedMargins.Core.EnumNames<StagedMargins.Core.Mapping.CaseOutcome>.Of(c.Outcome), c.Stages, c.Blocks, c.ClearedStage, c.Readings, c.Unreadable, c.Amendments, c.Recuts, c.Recall, c.DefectUm2, c.LesionUm2, c.SparedUm2];
                await to.WriteRowAsync(CancellationToken.None, row);
            }

            await to.CompleteAsync();
        }

        await using (var to = await connection.BeginBinaryImportAsync("COPY audit_stages (clinic_id, case_id, stage_number, turnaround_minutes) FROM STDIN (FORMAT BINARY)"))
        {
            foreach (var stage in InventedCases.Make(count).SelectMany(invented => invented.Stages))
            {
                object?[] row = [stage.ClinicId, stage.CaseId, stage.StageNumber, stage.TurnaroundMinutes];
                await to.WriteRowAsync(CancellationToken.None, row);
            }

            await to.CompleteAsync();
        }

        await RunAsync(connection, "RESET session_replication_role");
        await RunAsync(connection, "VACUUM ANALYZE audit_cases, audit_stages");
    }

    private static async Task InsertAsync(ClinicContext db, int count)
    {
        await db.Database.OpenConnectionAsync();
        await db.Database.ExecuteSqlAsync($"PRAGMA foreign_keys = off");
        foreach (var some in InventedCases.Make(count).Chunk(Batch))
        {
            db.ChangeTracker.Clear();
            db.AddRange(some.Select(invented => invented.Case));
            db.AddRange(some.SelectMany(invented => invented.Stages));
            await db.SaveChangesAsync();
        }

        await db.Database.ExecuteSqlAsync($"ANALYZE");
    }

    private static async Task RunAsync(NpgsqlConnection connection, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection) { CommandTimeout = 600 };
        await command.ExecuteNonQueryAsync();
    }
}
