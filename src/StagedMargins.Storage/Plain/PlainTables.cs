using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Cases;

namespace StagedMargins.Storage.Plain;

/// <summary>
/// Tables for a clinic's own SQL, filled by a command when somebody wants them: cases, stages, blocks and readings in columns, as they
/// follow from the entries at that moment. No patient's number and none of anyone's words. Nothing reads them; they can be dropped.
/// </summary>
public static class PlainTables
{
    private const int CasesAtOnce = 100;

    // Types that both databases take; times are UTC.
    private static readonly FormattableString[] Tables =
    [
        $"DROP TABLE IF EXISTS plain_readings",
        $"DROP TABLE IF EXISTS plain_blocks",
        $"DROP TABLE IF EXISTS plain_stages",
        $"DROP TABLE IF EXISTS plain_cases",
        $"""
        CREATE TABLE plain_cases (
          clinic_id uuid NOT NULL, case_id uuid NOT NULL, version integer NOT NULL, case_number text NOT NULL, opened_at text NOT NULL, surgeon_id uuid,
          site_code text NOT NULL, site_side text, area_class text, morphology text NOT NULL, recurrent boolean, state text NOT NULL, stages integer NOT NULL,
          outcome text, ended_at text, recall boolean NOT NULL, PRIMARY KEY (clinic_id, case_id))
        """,
        $"""
        CREATE TABLE plain_stages (
          clinic_id uuid NOT NULL, case_id uuid NOT NULL, stage integer NOT NULL, taken_at text NOT NULL, received_at text, slides_ready_at text,
          pieces integer NOT NULL, blocks integer NOT NULL, overlap_minutes integer NOT NULL, PRIMARY KEY (clinic_id, case_id, stage))
        """,
        $"""
        CREATE TABLE plain_blocks (
          clinic_id uuid NOT NULL, case_id uuid NOT NULL, stage integer NOT NULL, block text NOT NULL, arc_from text, arc_to text, centre boolean NOT NULL,
          piece integer, outcome text, PRIMARY KEY (clinic_id, case_id, stage, block))
        """,
        $"""
        CREATE TABLE plain_readings (
          clinic_id uuid NOT NULL, case_id uuid NOT NULL, stage integer NOT NULL, block text NOT NULL, reading integer NOT NULL, reading_id uuid NOT NULL,
          outcome text NOT NULL, reader_id uuid NOT NULL, read_at text NOT NULL, recorded_by_id uuid NOT NULL, recorded_at text NOT NULL, amends_id uuid,
          signed_by_id uuid, counts boolean NOT NULL, PRIMARY KEY (clinic_id, case_id, stage, block, reading))
        """,
    ];

    /// <summary>Makes the tables anew, empty, in the transaction at hand.</summary>
    /// <param name="db">The record, as an account that may make tables.</param>
    /// <param name="cancel">Ends the work.</param>
    public static async Task MakePlainTablesAsync(this ClinicContext db, CancellationToken cancel)
    {
        foreach (var table in Tables)
        {
            var statements = new Statements(db);
            statements.Add(table);
            await statements.ExecuteAsync(cancel);
        }
    }

    /// <summary>Fills the tables with every case of the clinic in scope.</summary>
    /// <param name="db">The record, with the clinic in scope, in the same transaction.</param>
    /// <param name="done">Told how many cases are done, from time to time.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <returns>How many cases there are, and those that can't be read and so are left out.</returns>
    public static async Task<(int Cases, IReadOnlyList<Guid> Unreadable)> FillPlainTablesAsync(this ClinicContext db, Action<int> done, CancellationToken cancel)
    {
        var ids = await db.Cases.OrderBy(row => row.CaseNumber).Select(row => row.CaseId).ToListAsync(cancel);
        var (filled, unreadable) = (0, new List<Guid>());
        foreach (var some in ids.Chunk(CasesAtOnce))
        {
            var loaded = await db.LoadCasesAsync(some, cancel);
            foreach (var one in loaded.Readable)
            {
                var statements = new Statements(db);
                AddRows(one, statements);
                await statements.ExecuteAsync(cancel);
            }

            unreadable.AddRange(loaded.Unreadable.Keys);
            done(filled += some.Length);
        }

        return (ids.Count, unreadable);
    }

    private static void AddRows(SurgicalCase one, Statements statements)
    {
        var (clinicId, caseId, facts) = (one.ClinicId, one.Id, one.Facts);
        statements.Add($"""
            INSERT INTO plain_cases VALUES ({clinicId}, {caseId}, {one.Version}, {one.CaseNumber}, {At(one.OpenedAt)}, {one.SurgeonId}, {facts.Site.Code}, {Word(facts.Site.Side)},
            {Word(Sites.AreaOf(facts))}, {facts.Tumour.Morphology}, {facts.Tumour.Recurrent}, {Word<CaseState>(one.State)}, {one.Stages.Count}, {Word(one.Ending?.Outcome)}, {At(one.Ending?.EndedAt)}, {one.Recall})
            """);
        foreach (var stage in one.Stages)
        {
            statements.Add($"""
                INSERT INTO plain_stages VALUES ({clinicId}, {caseId}, {stage.Number}, {At(stage.TakenAt)}, {At(stage.TimeOf(StageMoment.Received))}, {At(stage.TimeOf(StageMoment.SlidesReady))},
                {stage.Pieces.Count}, {stage.Blocks.Count}, {stage.Overlap.Minutes})
                """);
            foreach (var block in stage.Blocks)
            {
                statements.Add($"""
                    INSERT INTO plain_blocks VALUES ({clinicId}, {caseId}, {stage.Number}, {block.Label}, {block.Arc?.From.ToString()}, {block.Arc?.To.ToString()}, {block.Centre},
                    {block.PieceNumber}, {Word(block.CountingReading?.Outcome)})
                    """);
                foreach (var reading in block.Readings)
                {
                    statements.Add($"""
                        INSERT INTO plain_readings VALUES ({clinicId}, {caseId}, {stage.Number}, {block.Label}, {reading.Ordinal}, {reading.Id}, {Word<ReadingOutcome>(reading.Outcome)}, {reading.ReaderId},
                        {At(reading.ReadAt)}, {reading.RecordedById}, {At(reading.RecordedAt)}, {reading.AmendsId}, {reading.SignedById}, {reading == block.CountingReading})
                        """);
                }
            }
        }
    }

    private static string? At(ClinicalTime? time) => time?.Utc.ToString("yyyy-MM-dd'T'HH:mm:ss.ffffff'Z'", CultureInfo.InvariantCulture);

    private static string? Word<T>(T? value)
        where T : struct, Enum => value is { } known ? EnumNames<T>.Of(known) : null;
}
