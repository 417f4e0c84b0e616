using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Features.Audit;

namespace StagedMargins.Benchmarks.Audit;

/// <summary>The same figures by surgeon and in all, as one would write them by hand over the same tables.</summary>
internal static class HandWritten
{
    private const string Sums =
        """
        count(*), sum(stages), avg(stages), sum(blocks), sum(readings), sum(unreadable), sum(amendments), sum(recuts), sum(recall),
        sum(pairs_both_clear), sum(pairs_both_tumour), sum(pairs_tumour_then_clear), sum(pairs_clear_then_tumour), sum(pairs_not_comparable),
        sum(CASE WHEN stages = 1 THEN 1 END), sum(CASE WHEN stages = 2 THEN 1 END), sum(CASE WHEN stages = 3 THEN 1 END), sum(CASE WHEN stages = 4 THEN 1 END), sum(CASE WHEN stages > 4 THEN 1 END),
        sum(CASE WHEN cleared_stage <= 1 THEN 1 END), sum(CASE WHEN cleared_stage <= 2 THEN 1 END), sum(CASE WHEN cleared_stage <= 3 THEN 1 END), sum(CASE WHEN cleared_stage <= 4 THEN 1 END), sum(CASE WHEN cleared_stage <= 7 THEN 1 END),
        sum(CASE WHEN outcome = 'cleared' THEN 1 END), sum(CASE WHEN outcome = 'stoppedWithTumour' THEN 1 END),
        avg(defect_um2), avg(spared_um2), avg(CAST(defect_um2 AS DOUBLE PRECISION) / lesion_um2),
        sum(CASE WHEN defect_um2 < 100000000 THEN 1 END), sum(CASE WHEN defect_um2 < 400000000 THEN 1 END), sum(CASE WHEN defect_um2 < 1000000000 THEN 1 END)
        """;

    private const string Dates = "AND ended_utc >= @from AND ended_utc < @to";
    private const string Which = $"FROM audit_cases WHERE clinic_id = @clinic {Dates}";

    private const string ByPercentiles =
        $"""
        SELECT surgeon_id, {Sums}, stddev_samp(stages), percentile_cont(0.5) WITHIN GROUP (ORDER BY stages) {Which} GROUP BY GROUPING SETS ((surgeon_id), ());
        SELECT surgeon_id, percentile_cont(ARRAY[0.5, 0.9]) WITHIN GROUP (ORDER BY turnaround_minutes)
        FROM audit_stages JOIN audit_cases USING (clinic_id, case_id) WHERE clinic_id = @clinic {Dates} AND turnaround_minutes IS NOT NULL
        GROUP BY GROUPING SETS ((surgeon_id), ());
        """;

    // SQLite has no percentiles of its own, and PostgreSQL sorts for them: the counts from which they follow.
    private const string ByCounts =
        $"""
        SELECT surgeon_id, {Sums}, sum(stages * stages) {Which} GROUP BY surgeon_id;
        SELECT surgeon_id, stages, count(*) {Which} GROUP BY surgeon_id, stages;
        SELECT surgeon_id, turnaround_minutes, count(*)
        FROM audit_cases JOIN audit_stages USING (clinic_id, case_id) WHERE clinic_id = @clinic {Dates} AND turnaround_minutes IS NOT NULL
        GROUP BY surgeon_id, turnaround_minutes;
        """;

    /// <summary>The ways to write it that an engine knows, by name.</summary>
    internal static IEnumerable<(string Name, string Sql)> For(ClinicContext db) =>
        db.Database.IsNpgsql() ? [("by percentiles", ByPercentiles), ("by counts", ByCounts)] : [("by counts", ByCounts)];

    internal static async Task RunAsync(ClinicContext db, string sql, AuditPeriod period)
    {
        var clinic = await db.Clinics.SingleAsync();
        var (from, to) = (clinic.StartOf(period.From ?? new DateOnly(1900, 1, 1)), clinic.StartOf((period.To ?? new DateOnly(2199, 12, 31)).AddDays(1)));
        await db.Database.OpenConnectionAsync();
        await using var command = db.Database.GetDbConnection().CreateCommand();
        command.CommandTimeout = 600;
        command.CommandText = period == new AuditPeriod(null, null) ? sql.Replace(Dates, "", StringComparison.Ordinal) : sql;
        Put(command, "clinic", db.Database.IsNpgsql() ? InventedCases.Clinic : InventedCases.Clinic.ToString().ToUpperInvariant());
        Put(command, "from", db.Database.IsNpgsql() ? from : from.Ticks);
        Put(command, "to", db.Database.IsNpgsql() ? to : to.Ticks);
        await using var reader = await command.ExecuteReaderAsync();
        do
        {
            var values = new object[reader.FieldCount];
            while (await reader.ReadAsync())
            {
                reader.GetValues(values);
            }
        }
        while (await reader.NextResultAsync());
    }

    private static void Put(DbCommand command, string name, object value)
    {
        var parameter = command.CreateParameter();
        (parameter.ParameterName, parameter.Value) = (name, value);
        command.Parameters.Add(parameter);
    }
}
