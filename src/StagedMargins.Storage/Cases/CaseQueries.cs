using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Storage.Cases;

/// <summary>Reads whole cases.</summary>
public static class CaseQueries
{
    /// <summary>
    /// The case with everything recorded in it, in order, or null where the clinic in scope has none of that number.
    /// </summary>
    /// <remarks>
    /// What decides the margins is read in one statement, so that a reader never sees half of someone's write. Times,
    /// measurements, confirmations and assessments are only ever added and decide no margin, so they follow in statements of their own.
    /// </remarks>
    public static async Task<SurgicalCase?> FindCaseAsync(this ClinicContext db, Guid id, CancellationToken cancel)
    {
        var found = await db.Cases.WithStages().SingleOrDefaultAsync(c => c.Id == id, cancel);
        if (found is not null)
        {
            await db.Set<StageTime>().Where(times => EF.Property<Guid>(times, "CaseId") == id).OrderBy(times => times.Ordinal).LoadAsync(cancel);
            await db.Set<MeasuredDefect>().Where(measured => EF.Property<Guid>(measured, "CaseId") == id).OrderBy(measured => measured.Ordinal).LoadAsync(cancel);
            await db.Set<SiteConfirmation>().Where(confirmation => EF.Property<Guid>(confirmation, "CaseId") == id).OrderBy(confirmation => confirmation.Ordinal).LoadAsync(cancel);
            await db.Set<KeptAssessment>().Where(kept => EF.Property<Guid>(kept, "CaseId") == id).OrderBy(kept => kept.Ordinal).LoadAsync(cancel);
        }

        return found;
    }

    /// <summary>Every open case with what decides its margins, longest open first.</summary>
    public static Task<List<SurgicalCase>> OpenCasesAsync(this ClinicContext db, CancellationToken cancel) =>
        db.Cases.AsNoTracking().WithStages().Where(c => c.Head.Outcome == null).OrderBy(c => c.OpenedAt.Utc).ToListAsync(cancel);

    private static IQueryable<SurgicalCase> WithStages(this IQueryable<SurgicalCase> cases) => cases.AsSingleQuery()
        .Include(c => c.Head)
        .Include(c => c.Ending)
        .Include(c => c.FactsCorrections.OrderBy(correction => correction.Ordinal))
        .Include(c => c.Stages.OrderBy(stage => stage.Number))
        .ThenInclude(stage => stage.Blocks.OrderBy(block => block.Ordinal))
        .ThenInclude(block => block.Readings.OrderBy(reading => reading.Ordinal))
        .ThenInclude(reading => reading.Countersignature);
}
