using StagedMargins.Core.Care;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Mapping;

/// <summary>
/// A case to which entries are being added: each verb decides an entry, which may refuse, and applies it. Entries are only added; a
/// correction is a further entry.
/// </summary>
public sealed class CaseLog
{
    private readonly List<NewEntry> newEntries = [];
    private readonly Queue<NewEntry> repeated = [];

    /// <summary>Goes on with a case.</summary>
    /// <param name="surgicalCase">The case as it stands.</param>
    public CaseLog(SurgicalCase surgicalCase) => Case = surgicalCase;

    /// <summary>Opens a case.</summary>
    /// <param name="clinicId">The clinic it belongs to.</param>
    /// <param name="caseNumber">Its number, unique in the clinic.</param>
    /// <param name="opening">What was entered.</param>
    /// <param name="boundary">The clinic's setting for exactly 2 and 4 cm.</param>
    /// <param name="openedById">By whom.</param>
    /// <param name="openedAt">When.</param>
    /// <exception cref="InvalidEntryException">A required part is missing or a text is too long.</exception>
    public CaseLog(Guid clinicId, string caseNumber, NewCase opening, SizeBoundary boundary, Guid openedById, ClinicalTime openedAt)
        : this(SurgicalCase.Unopened(clinicId, opening.Id ?? Guid.CreateVersion7(openedAt.ToDateTimeOffset())))
    {
        Write(CaseOpened.Decide(caseNumber, opening, boundary), openedById, openedAt);
    }

    /// <summary>The case as it stands.</summary>
    public SurgicalCase Case { get; private set; }

    /// <summary>What was decided since the case was read and is not stored yet, oldest first.</summary>
    public IReadOnlyList<NewEntry> NewEntries => newEntries;

    /// <summary>Lets the next verbs find what they decided once, with the numbers that were made then, so that a request that is sent again can be answered as it was.</summary>
    /// <param name="written">What they decided, in order.</param>
    public void Repeat(IEnumerable<NewEntry> written)
    {
        foreach (var entry in written)
        {
            repeated.Enqueue(entry);
        }
    }

    /// <summary>Records that a layer was taken, as the next stage, with the alerts to be said at once.</summary>
    /// <inheritdoc cref="LayerRecorded.Decide"/>
    public Stage RecordLayer(Layer layer, Overlap overlap, Guid byId, ClinicalTime at)
    {
        Write(LayerRecorded.Decide(Case, layer, overlap), byId, at);
        return Case.Stages[^1];
    }

    /// <summary>Adds a block to a stage.</summary>
    /// <inheritdoc cref="BlockAdded.Decide"/>
    public Block AddBlock(int stage, BlockEntry entry, Guid byId, ClinicalTime at)
    {
        Write(BlockAdded.Decide(Case, stage, entry), byId, at);
        return Case.StageOf(stage).Blocks[^1];
    }

    /// <summary>Enters when moments of a stage came at the bench.</summary>
    /// <inheritdoc cref="TimesRecorded.Decide"/>
    public Stage RecordTimes(int stage, IReadOnlyList<MomentTime> times, Guid byId, ClinicalTime at)
    {
        Write(TimesRecorded.Decide(Case, stage, times), byId, at);
        return Case.StageOf(stage);
    }

    /// <summary>Records a reading of a block, or an amendment of the one that counts.</summary>
    /// <remarks>An amendment after the case was closed as cleared that leaves it not clear raises the recall flag.</remarks>
    /// <inheritdoc cref="ReadingWritten.Decide"/>
    public Reading RecordReading(int stage, string label, ReadingEntry entry, Guid byId, ClinicalTime at)
    {
        Write(ReadingWritten.Decide(Case, stage, label, entry, at), byId, at);
        return Case.StageOf(stage).BlockOf(label).Readings[^1];
    }

    /// <summary>Signs a reading that someone else wrote down for the reader.</summary>
    /// <inheritdoc cref="ReadingCountersigned.Decide"/>
    public Reading Countersign(Guid readingId, Guid byId, ClinicalTime at, bool takesOver = false)
    {
        Write(ReadingCountersigned.Decide(Case, readingId, byId, takesOver), byId, at);
        return Case.Readings().Single(reading => reading.Id == readingId);
    }

    /// <summary>Ends the case.</summary>
    /// <inheritdoc cref="CaseEnded.Decide"/>
    public void End(EndingEntry entry, MeasuredDefectEntry? measured, Guid byId, ClinicalTime at) => Write(CaseEnded.Decide(Case, entry, measured), byId, at);

    /// <summary>Enters a measurement of the wound.</summary>
    /// <inheritdoc cref="DefectMeasured.Decide"/>
    public MeasuredDefect Measure(MeasuredDefectEntry entry, Guid byId, ClinicalTime at)
    {
        Write(DefectMeasured.Decide(Case, entry), byId, at);
        return Case.MeasuredDefects[^1];
    }

    /// <summary>Withdraws the reading of a block that counts.</summary>
    /// <inheritdoc cref="ReadingWithdrawn.Decide"/>
    public Reading WithdrawReading(Guid readingId, string? reason, Guid byId, ClinicalTime at)
    {
        Write(ReadingWithdrawn.Decide(Case, readingId, reason), byId, at);
        return Case.FindReading(readingId)!;
    }

    /// <summary>Corrects pieces, blocks or the time of a stage.</summary>
    /// <inheritdoc cref="StageCorrected.Decide"/>
    public Stage CorrectStage(int stage, StageCorrectionEntry entry, Guid byId, ClinicalTime at)
    {
        Write(StageCorrected.Decide(Case, stage, entry), byId, at);
        return Case.StageOf(stage);
    }

    /// <summary>Withdraws the last stage: it was never taken.</summary>
    /// <inheritdoc cref="StageWithdrawn.Decide"/>
    public void WithdrawStage(int stage, string? reason, Guid byId, ClinicalTime at) => Write(StageWithdrawn.Decide(Case, stage, reason), byId, at);

    /// <summary>Opens an ended case again, for the same wound.</summary>
    /// <inheritdoc cref="CaseReopened.Decide"/>
    public void Reopen(string? reason, Guid byId, ClinicalTime at) => Write(CaseReopened.Decide(Case, reason), byId, at);

    /// <summary>Answers a review.</summary>
    /// <inheritdoc cref="ReviewAnswered.Decide"/>
    public Review AnswerReview(Guid reviewId, ReviewDecision decision, string? note, Guid byId, ClinicalTime at)
    {
        Write(ReviewAnswered.Decide(Case, reviewId, decision, note), byId, at);
        return Case.Reviews.First(review => review.Id == reviewId);
    }

    /// <summary>Notes that everything so far was taken over from another record.</summary>
    public void NoteImport(CaseImported note, Guid byId, ClinicalTime at) => Write(note, byId, at);

    /// <summary>Enters a dose that was given.</summary>
    /// <inheritdoc cref="AnaestheticGiven.Decide"/>
    public Dose RecordDose(DoseEntry entry, Guid byId, ClinicalTime at)
    {
        Write(AnaestheticGiven.Decide(Case, entry), byId, at);
        return Case.Doses[^1];
    }

    /// <summary>Says that a dose was entered wrongly.</summary>
    /// <inheritdoc cref="AnaestheticVoided.Decide"/>
    public Dose VoidDose(int number, string? reason, Guid byId, ClinicalTime at)
    {
        Write(AnaestheticVoided.Decide(Case, number, reason), byId, at);
        return Case.Doses[number - 1];
    }

    /// <summary>Enters how and when the wound was closed.</summary>
    /// <inheritdoc cref="RepairRecorded.Decide"/>
    public Repair RecordRepair(RepairEntry entry, Guid byId, ClinicalTime at)
    {
        Write(RepairRecorded.Decide(Case, entry, at), byId, at);
        return Case.Repairs[^1];
    }

    /// <summary>Enters a visit, or the correction of one.</summary>
    /// <inheritdoc cref="VisitRecorded.Decide"/>
    public Visit RecordVisit(VisitEntry entry, Guid byId, ClinicalTime at)
    {
        Write(VisitRecorded.Decide(Case, entry, at), byId, at);
        return Case.Visits[^1];
    }

    /// <summary>Enters that a block was sent for permanent sections.</summary>
    /// <inheritdoc cref="PermanentSectionSent.Decide"/>
    public PermanentSection SendForPermanentSection(int stage, string label, ClinicalTime sentAt, string? note, Guid byId, ClinicalTime at)
    {
        Write(PermanentSectionSent.Decide(Case, stage, label, sentAt, note), byId, at);
        return Case.PermanentSections[^1];
    }

    /// <summary>Enters what the permanent sections of a block showed.</summary>
    /// <inheritdoc cref="PermanentSectionReported.Decide"/>
    public PermanentSection ReportPermanentSection(int stage, string label, PermanentResultEntry entry, Guid byId, ClinicalTime at)
    {
        Write(PermanentSectionReported.Decide(Case, stage, label, entry), byId, at);
        return Case.PermanentSectionOf(stage, label)!;
    }

    /// <summary>Asks a second reader to read a block blind.</summary>
    /// <inheritdoc cref="SecondReadAsked.Decide"/>
    public SecondRead AskSecondRead(int stage, string label, Guid readerId, Guid byId, ClinicalTime at)
    {
        Write(SecondReadAsked.Decide(Case, stage, label, readerId, byId), byId, at);
        return Case.SecondReads[^1];
    }

    /// <summary>Enters what a second reader said.</summary>
    /// <inheritdoc cref="SecondReadAnswered.Decide"/>
    public SecondRead AnswerSecondRead(int number, ReadingOutcome outcome, string? note, Guid byId, ClinicalTime at, IReadOnlyList<FindingEntry>? findings = null)
    {
        Write(SecondReadAnswered.Decide(Case, number, outcome, findings ?? [], note, byId), byId, at);
        return Case.SecondReads[number - 1];
    }

    /// <summary>Enters that a second reader gives the task back unread.</summary>
    /// <inheritdoc cref="SecondReadGivenBack.Decide"/>
    public SecondRead GiveBackSecondRead(int number, string? reason, Guid byId, ClinicalTime at)
    {
        Write(SecondReadGivenBack.Decide(Case, number, reason, byId), byId, at);
        return Case.SecondReads[number - 1];
    }

    /// <summary>Enters the facts anew.</summary>
    /// <remarks>Margins do not follow from these facts.</remarks>
    /// <inheritdoc cref="FactsCorrected.Decide"/>
    public FactsCorrection CorrectFacts(CaseFacts facts, string? reason, SizeBoundary boundary, Guid byId, ClinicalTime at, IdentityCorrection? identity = null)
    {
        Write(FactsCorrected.Decide(Case, facts, reason, boundary, identity), byId, at);
        return Case.FactsCorrections[^1];
    }

    /// <summary>One person confirms, before stage 1, that the site marked on the patient is the site of the case.</summary>
    /// <inheritdoc cref="SiteConfirmed.Decide"/>
    public SiteConfirmation ConfirmSite(string? note, Guid byId, ClinicalTime at)
    {
        Write(SiteConfirmed.Decide(Case, note, byId), byId, at);
        return Case.SiteConfirmations[^1];
    }

    /// <summary>Adds a photo of the site as it is marked on the patient.</summary>
    /// <inheritdoc cref="SitePhotoAdded.Decide(SurgicalCase, BarePicture)"/>
    public SitePhoto AddSitePhoto(BarePicture picture, Guid byId, ClinicalTime at)
    {
        Write(SitePhotoAdded.Decide(Case, picture), byId, at);
        return Case.SitePhotos[^1];
    }

    private NewEntry Decided(CaseEvent decided, Authorship written) => new(decided is CaseOpened ? decided : decided.WithReviews(Case, written), written);

    private void Write(CaseEvent decided, Guid byId, ClinicalTime at)
    {
        var entry = repeated.TryDequeue(out var kept) ? kept : Decided(decided, new Authorship(byId, at));
        Case = Case.Apply(entry.Event, entry.Written);
        newEntries.Add(entry);
    }
}
