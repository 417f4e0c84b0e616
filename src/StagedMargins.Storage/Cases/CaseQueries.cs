using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Care;
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
    /// measurements, confirmations, assessments and what is done around the loop are only ever added and decide no margin, so they
    /// follow in statements of their own.
    /// </remarks>
    public static async Task<SurgicalCase?> FindCaseAsync(this ClinicContext db, Guid id, CancellationToken cancel)
    {
        var found = await db.Cases.WithStages().SingleOrDefaultAsync(c => c.Id == id, cancel);
        if (found is not null)
        {
            await db.LoadRestAsync(id, cancel);
        }

        return found;
    }

    /// <summary>The file of a photo of the site; null where the clinic in scope has none of that number.</summary>
    public static Task<SitePhotoFile?> FindSitePhotoFileAsync(this ClinicContext db, Guid caseId, int ordinal, CancellationToken cancel) =>
        db.AllOf<SitePhotoFile>(caseId).AsNoTracking().SingleOrDefaultAsync(file => EF.Property<int>(file, "Ordinal") == ordinal, cancel);

    /// <summary>The file of a photo of the site, as it was written; another picture in its place may show the other side of the body.</summary>
    /// <exception cref="RuleViolationException">It is missing, or not as it was written.</exception>
    public static async Task<SitePhotoFile> IntactSitePhotoAsync(this ClinicContext db, Guid caseId, SitePhoto photo, CancellationToken cancel) =>
        await db.FindSitePhotoFileAsync(caseId, photo.Ordinal, cancel) is { } file && file.Digest() == photo.Sha256
            ? file
            : throw new RuleViolationException("photoNotIntact", "A photo of the site has changed since it was added and is not shown. Confirm the site on the patient, and have the record checked.");

    /// <summary>The cases that someone may see: all but those in which they are still to read a block blind.</summary>
    public static IQueryable<SurgicalCase> SeenBy(this IQueryable<SurgicalCase> cases, Guid personId) =>
        cases.Where(c => !c.SecondReads.Any(read => read.ReaderId == personId && read.Answer == null));

    /// <summary>Every open case that someone may see, with what decides its margins, longest open first.</summary>
    public static Task<List<SurgicalCase>> OpenCasesAsync(this ClinicContext db, Guid personId, CancellationToken cancel) =>
        db.Cases.AsNoTracking().SeenBy(personId).WithStages().Where(c => c.Head.Outcome == null).OrderBy(c => c.OpenedAt.Utc).ToListAsync(cancel);

    // Most cases have little of this, so one statement asks what there is before it is read. A method in it would be compiled at each call.
    private static async Task LoadRestAsync(this ClinicContext db, Guid id, CancellationToken cancel)
    {
        var has = await db.Cases.Where(c => c.Id == id).Select(_ => new
        {
            Times = db.Set<StageTime>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Measurements = db.Set<MeasuredDefect>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Confirmations = db.Set<SiteConfirmation>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Photos = db.Set<SitePhoto>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Assessments = db.Set<KeptAssessment>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Doses = db.Set<Dose>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Repairs = db.Set<Repair>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            Visits = db.Set<Visit>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            PermanentSections = db.Set<PermanentSection>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
            SecondReads = db.Set<SecondRead>().Any(row => EF.Property<Guid>(row, "CaseId") == id),
        }).SingleAsync(cancel);
        await LoadAsync(has.Times, db.AllOf<StageTime>(id).OrderBy(times => times.Ordinal), cancel);
        await LoadAsync(has.Measurements, db.AllOf<MeasuredDefect>(id).OrderBy(measured => measured.Ordinal), cancel);
        await LoadAsync(has.Confirmations, db.AllOf<SiteConfirmation>(id).OrderBy(confirmation => confirmation.Ordinal), cancel);
        await LoadAsync(has.Photos, db.AllOf<SitePhoto>(id).OrderBy(photo => photo.Ordinal), cancel);
        await LoadAsync(has.Assessments, db.AllOf<KeptAssessment>(id).OrderBy(kept => kept.Ordinal), cancel);
        await LoadAsync(has.Doses, db.AllOf<Dose>(id).Include(dose => dose.Void).OrderBy(dose => dose.Number), cancel);
        await LoadAsync(has.Repairs, db.AllOf<Repair>(id).OrderBy(repair => repair.Ordinal), cancel);
        await LoadAsync(has.Visits, db.AllOf<Visit>(id).OrderBy(visit => visit.Number), cancel);
        await LoadAsync(
            has.PermanentSections,
            db.AllOf<PermanentSection>(id).Include(sent => sent.Results.OrderBy(result => result.Ordinal)).OrderBy(sent => sent.StageNumber).ThenBy(sent => sent.BlockLabel),
            cancel);
        await LoadAsync(has.SecondReads, db.AllOf<SecondRead>(id).Include(read => read.Answer).OrderBy(read => read.Number), cancel);
    }

    private static Task LoadAsync<T>(bool has, IQueryable<T> rows, CancellationToken cancel) => has ? rows.LoadAsync(cancel) : Task.CompletedTask;

    private static IQueryable<T> AllOf<T>(this ClinicContext db, Guid caseId)
        where T : class =>
        db.Set<T>().Where(row => EF.Property<Guid>(row, "CaseId") == caseId);

    private static IQueryable<SurgicalCase> WithStages(this IQueryable<SurgicalCase> cases) => cases.AsSingleQuery()
        .Include(c => c.Head)
        .Include(c => c.Ending)
        .Include(c => c.FactsCorrections.OrderBy(correction => correction.Ordinal))
        .Include(c => c.Stages.OrderBy(stage => stage.Number))
        .ThenInclude(stage => stage.Blocks.OrderBy(block => block.Ordinal))
        .ThenInclude(block => block.Readings.OrderBy(reading => reading.Ordinal))
        .ThenInclude(reading => reading.Countersignature);
}
