using System.Globalization;
using System.Resources;

namespace StagedMargins.Core.Wording;

/// <summary>
/// The clinical sentences, and the parts of them, that more than one of page, map, paper, message and export says. They stand in
/// <c>Sentences.resx</c>; a further language is a further file beside it. Parts that are handed in are words already.
/// </summary>
public static class Sentences
{
    private static readonly ResourceManager Texts = new(typeof(Sentences));

    /// <summary>Two things, or the last two of a list.</summary>
    public static string And(string first, string second) => Filled(nameof(And), first, second);

    /// <summary>An arc between two positions.</summary>
    public static string FromTo(string from, string to) => Filled(nameof(FromTo), from, to);

    /// <summary>Positions on the clock face.</summary>
    public static string OClock(string positions) => Filled(nameof(OClock), positions);

    /// <summary>Places on a margin, for example <c>peripheral margin, 7:30–9:00 o'clock</c>.</summary>
    public static string MarginPlaces(string margin, string places) => Filled(nameof(MarginPlaces), margin, places);

    /// <summary>Something at places of a margin, for example <c>tumour at the peripheral margin, 7:30 to 9 o'clock</c>.</summary>
    public static string At(string what, string margin, string places) => Filled(nameof(At), what, margin, places);

    /// <summary>A block and its stage.</summary>
    public static string StageBlock(int stage, string block) => Filled(nameof(StageBlock), stage, block);

    /// <summary>The most serious alert.</summary>
    public static string LeftBehind(string margin, string places) => Filled(nameof(LeftBehind), margin, places);

    /// <summary>The tumour was taken without the whole overlap.</summary>
    public static string ThinOverlap(string margin, string places) => Filled(nameof(ThinOverlap), margin, places);

    /// <summary>Tissue that no block covers.</summary>
    public static string Unmapped(string margin, string places) => Filled(nameof(Unmapped), margin, places);

    /// <summary>Tissue taken outside the target.</summary>
    public static string BeyondTarget(string margin, string places) => Filled(nameof(BeyondTarget), margin, places);

    /// <summary>The first layer was taken before the site was confirmed.</summary>
    public static string SiteNotConfirmed(string reason) => Filled(nameof(SiteNotConfirmed), reason);

    /// <summary>A reason as it was given.</summary>
    public static string ReasonGiven(string reason) => Filled(nameof(ReasonGiven), reason);

    /// <summary>That there is no reason.</summary>
    public static string NoReasonGiven => Filled(nameof(NoReasonGiven));

    /// <summary>A reading in one sentence.</summary>
    public static string Reading(int stage, string block, string result) => Filled(nameof(Reading), stage, block, result);

    /// <summary>The result of a clear reading.</summary>
    public static string ClearReading => Filled(nameof(ClearReading));

    /// <summary>The result of an unreadable reading.</summary>
    public static string UnreadableReading => Filled(nameof(UnreadableReading));

    /// <summary>The width of a rim.</summary>
    public static string Wide(string length) => Filled(nameof(Wide), length);

    /// <summary>The first layer.</summary>
    public static string WaitsForFirstLayer => Filled(nameof(WaitsForFirstLayer));

    /// <summary>Blocks to be recut.</summary>
    public static string WaitsForRecut(string blocks) => Filled(nameof(WaitsForRecut), blocks);

    /// <summary>Blocks to be read.</summary>
    public static string WaitsForReading(string blocks) => Filled(nameof(WaitsForReading), blocks);

    /// <summary>A block for tissue that none covers.</summary>
    public static string WaitsForBlock(string places) => Filled(nameof(WaitsForBlock), places);

    /// <summary>The next layer.</summary>
    public static string WaitsForNextLayer(string places) => Filled(nameof(WaitsForNextLayer), places);

    /// <summary>Readings to be countersigned.</summary>
    public static string WaitsForCountersignature(string blocks) => Filled(nameof(WaitsForCountersignature), blocks);

    /// <summary>Repair and the end of the case.</summary>
    public static string WaitsForEnd => Filled(nameof(WaitsForEnd));

    /// <summary>The disclaimer: on every page and map, in every document.</summary>
    public static string Disclaimer => Filled(nameof(Disclaimer));

    /// <summary>Two findings at one place.</summary>
    public static string With(string first, string second) => Filled(nameof(With), first, second);

    /// <summary>What an earlier stage left.</summary>
    public static string FromEarlierStage(string what) => Filled(nameof(FromEarlierStage), what);

    /// <summary>The target, spelled out.</summary>
    public static string TargetOfNextLayer => Filled(nameof(TargetOfNextLayer));

    /// <summary>A case before its first layer.</summary>
    public static string NoLayerTaken => Filled(nameof(NoLayerTaken));

    /// <summary>A case that has not ended.</summary>
    public static string CaseOpen => Filled(nameof(CaseOpen));

    /// <summary>The site was confirmed.</summary>
    public static string TwoPeopleConfirmed => Filled(nameof(TwoPeopleConfirmed));

    /// <summary>A confirmation of another site.</summary>
    public static string SiteCorrectedSince => Filled(nameof(SiteCorrectedSince));

    /// <summary>An amendment made a cleared case not clear.</summary>
    public static string Recall => Filled(nameof(Recall));

    /// <summary>What keeps a case from being cleared.</summary>
    public static string NotClear(string places) => Filled(nameof(NotClear), places);

    /// <summary>In place of words whose key was forgotten.</summary>
    public static string WordsForgotten => Filled(nameof(WordsForgotten));

    /// <summary>In place of words that were changed behind the program's back.</summary>
    public static string WordsDamaged => Filled(nameof(WordsDamaged));

    /// <summary>The site was corrected after it had been confirmed.</summary>
    public static string SiteChangedSinceConfirmed => Filled(nameof(SiteChangedSinceConfirmed));

    /// <summary>The state of margins that are clear by readings of which some lack the reader's signature.</summary>
    public static string ClearUnsigned(int readings) => Filled(nameof(ClearUnsigned), readings);

    /// <summary>The state of margins that are clear while a review is open.</summary>
    public static string ClearUnderReview(int reviews) => Filled(nameof(ClearUnderReview), reviews);

    /// <summary>The state of margins that are clear while readings are not signed and a review is open.</summary>
    public static string ClearUnsignedUnderReview(int readings, int reviews) => Filled(nameof(ClearUnsignedUnderReview), readings, reviews);

    /// <summary>A case that ended as cleared and is not clear now.</summary>
    public static string ClosedAsClear => Filled(nameof(ClosedAsClear));

    /// <summary>A case that is paused.</summary>
    public static string PausedUntil(string day) => Filled(nameof(PausedUntil), day);

    /// <summary>A case as it was known at a moment.</summary>
    public static string AsKnownAt(string entry, string time, int later) => Filled(nameof(AsKnownAt), entry, time, later);

    /// <summary>A correction of a stage: what stands now, and for what.</summary>
    public static string StageCorrectedBy(int stage, string when, string who, string changes, string reason) => Filled(nameof(StageCorrectedBy), stage, when, who, changes, reason);

    /// <summary>A stage that was withdrawn.</summary>
    public static string StageWithdrawnBy(int stage, string when, string who, string reason) => Filled(nameof(StageWithdrawnBy), stage, when, who, reason);

    /// <summary>A reading that was withdrawn.</summary>
    public static string ReadingWithdrawnBy(string who, string when, string reason) => Filled(nameof(ReadingWithdrawnBy), who, when, reason);

    /// <summary>A block that a correction removed.</summary>
    public static string BlockRemoved => Filled(nameof(BlockRemoved));

    /// <summary>A case that was opened again.</summary>
    public static string ReopenedBy(string when, string who, string reason) => Filled(nameof(ReopenedBy), when, who, reason);

    /// <summary>A piece that is smaller than the whole floor of its arc.</summary>
    public static string PartOfFloor => Filled(nameof(PartOfFloor));

    /// <summary>No more can be cut of a block to read again.</summary>
    public static string NoMoreTissue => Filled(nameof(NoMoreTissue));

    /// <summary>A result of a block that is gone.</summary>
    public static string NoLongerAwaited => Filled(nameof(NoLongerAwaited));

    /// <summary>Who reported a result, and where.</summary>
    public static string ReportedBy(string who) => Filled(nameof(ReportedBy), who);

    /// <summary>A block whose tissue was embedded again.</summary>
    public static string ReplacedBy(string block) => Filled(nameof(ReplacedBy), block);

    /// <summary>A piece of a layer of several.</summary>
    public static string PieceNumbered(int number, string piece) => Filled(nameof(PieceNumbered), number, piece);

    /// <summary>What lies in some pieces of a layer of several.</summary>
    public static string InPieces(string what, string pieces) => Filled(nameof(InPieces), what, pieces);

    /// <summary>A piece of a layer of several, briefly.</summary>
    public static string PieceOfKind(int number, string kind) => Filled(nameof(PieceOfKind), number, kind);

    /// <summary>Which of some places are of a kind.</summary>
    public static string OfThese(string kind, string places) => Filled(nameof(OfThese), kind, places);

    /// <summary>How the plates of blocks name their piece.</summary>
    public static string PlatesNamePieces => Filled(nameof(PlatesNamePieces));

    /// <summary>A block whose tissue was embedded again, on its plate.</summary>
    public static string Replaced(string block) => Filled(nameof(Replaced), block);

    /// <summary>Notices that are left out above a map.</summary>
    public static string MoreInTheCase(int count) => Filled(nameof(MoreInTheCase), count);

    /// <summary>The state after a stage that is not the last.</summary>
    public static string EarlierState(int stage, int last) => Filled(nameof(EarlierState), stage, last);

    /// <summary>The view as one faces the skin.</summary>
    public static string PatientView => Filled(nameof(PatientView));

    /// <summary>The mirrored view.</summary>
    public static string SlideView => Filled(nameof(SlideView));

    /// <summary>Which way the patient view turns.</summary>
    public static string SeenFromSkin => Filled(nameof(SeenFromSkin));

    /// <summary>Which way the slide view turns.</summary>
    public static string SeenOnSlide => Filled(nameof(SeenOnSlide));

    /// <summary>The warning of the slide view.</summary>
    public static string NeverCutFromThisView => Filled(nameof(NeverCutFromThisView));

    /// <summary>Readings without their reader's signature.</summary>
    public static string ToBeCountersigned(string readings) => Filled(nameof(ToBeCountersigned), readings);

    /// <summary>A permanent section is not what the reading says.</summary>
    public static string PermanentSectionDiffers(int stage, string block) => Filled(nameof(PermanentSectionDiffers), stage, block);

    /// <summary>Two readings of a block are the same.</summary>
    public static string ReadersAgree => Filled(nameof(ReadersAgree));

    /// <summary>Two readings of a block differ.</summary>
    public static string ReadersDisagree => Filled(nameof(ReadersDisagree));

    /// <summary>A repair over margins that are not clear.</summary>
    public static string RepairedNotClear => Filled(nameof(RepairedNotClear));

    /// <summary>The question beside a measurement.</summary>
    public static string DefectQuestion(string differences) => Filled(nameof(DefectQuestion), differences);

    /// <summary>How and when a case ended.</summary>
    public static string CaseEnded(string outcome, string time) => Filled(nameof(CaseEnded), outcome, time);

    /// <summary>A case that continues on a known day.</summary>
    public static string ContinuesOn(string day) => Filled(nameof(ContinuesOn), day);

    /// <summary>The area class.</summary>
    public static string AreaClassIs(string area) => Filled(nameof(AreaClassIs), area);

    /// <summary>No area class is known.</summary>
    public static string AreaClassOpen => Filled(nameof(AreaClassOpen));

    /// <summary>The T category of AJCC 8.</summary>
    public static string Ajcc8(string category) => Filled(nameof(Ajcc8), category);

    /// <summary>The T category of Brigham and Women's.</summary>
    public static string BrighamWomens(string category) => Filled(nameof(BrighamWomens), category);

    /// <summary>Neither T category applies.</summary>
    public static string NoTCategory => Filled(nameof(NoTCategory));

    /// <summary>One T category does not apply.</summary>
    public static string TDoesNotApply => Filled(nameof(TDoesNotApply));

    /// <summary>A T category that the missing size decides.</summary>
    public static string TOpen => Filled(nameof(TOpen));

    /// <summary>A T category with its factors.</summary>
    public static string TBecause(string category, string factors) => Filled(nameof(TBecause), category, factors);

    /// <summary>A T category with the facts that are missing.</summary>
    public static string TMayBeHigher(string category, string missing) => Filled(nameof(TMayBeHigher), category, missing);

    /// <summary>A prompt.</summary>
    public static string ConsiderRadiationOpinion(string facts) => Filled(nameof(ConsiderRadiationOpinion), facts);

    /// <summary>A prompt, where the site was irradiated before.</summary>
    public static string ConsiderRadiationOpinionIrradiated(string facts) => Filled(nameof(ConsiderRadiationOpinionIrradiated), facts);

    /// <summary>A prompt.</summary>
    public static string ConsiderNodalImaging => Filled(nameof(ConsiderNodalImaging));

    /// <summary>A T category that may be higher.</summary>
    public static string TAtLeast(string category) => Filled(nameof(TAtLeast), category);

    /// <summary>A fact of which the slides show more than intake says.</summary>
    public static string SlidesAgainstIntake(string fact, string intake, string slides) => Filled(nameof(SlidesAgainstIntake), fact, intake, slides);

    /// <summary>A prompt.</summary>
    public static string AvoidRadiation(string facts) => Filled(nameof(AvoidRadiation), facts);

    /// <summary>A prompt.</summary>
    public static string CurettageUnsuitable => Filled(nameof(CurettageUnsuitable));

    /// <summary>The total below the warning level.</summary>
    public static string AnaestheticTotal(string total) => Filled(nameof(AnaestheticTotal), total);

    /// <summary>The total from 80 % of the maximum.</summary>
    public static string NearLabelMaximum(string total) => Filled(nameof(NearLabelMaximum), total);

    /// <summary>The total from 100 % of the maximum.</summary>
    public static string LabelMaximumReached(string total) => Filled(nameof(LabelMaximumReached), total);

    /// <summary>A total beside its maximum.</summary>
    public static string OfLabelMaximum(string total, string percent, string maximum) => Filled(nameof(OfLabelMaximum), total, percent, maximum);

    /// <summary>A total without the patient's weight.</summary>
    public static string WeightUnknown(string total) => Filled(nameof(WeightUnknown), total);

    /// <summary>A case was opened.</summary>
    public static string EntryCaseOpened(string site, string tumour) => Filled(nameof(EntryCaseOpened), site, tumour);

    /// <summary>A case was taken over.</summary>
    public static string EntryCaseImported(int entries, string number) => Filled(nameof(EntryCaseImported), entries, number);

    /// <summary>A layer was recorded.</summary>
    public static string EntryLayer(int stage, string pieces, string blocks) => Filled(nameof(EntryLayer), stage, pieces, blocks);

    /// <summary>The blocks of a layer.</summary>
    public static string EntryBlocks(string labels) => Filled(nameof(EntryBlocks), labels);

    /// <summary>A layer without blocks.</summary>
    public static string EntryNoBlocks => Filled(nameof(EntryNoBlocks));

    /// <summary>A block was added.</summary>
    public static string EntryBlockAdded(int stage, string block, string places) => Filled(nameof(EntryBlockAdded), stage, block, places);

    /// <summary>A moment of a stage was entered.</summary>
    public static string EntryTime(int stage, string moments) => Filled(nameof(EntryTime), stage, moments);

    /// <summary>A reading was amended.</summary>
    public static string EntryAmended(string reading, string reason) => Filled(nameof(EntryAmended), reading, reason);

    /// <summary>A reading was signed.</summary>
    public static string EntrySigned(int stage, string block) => Filled(nameof(EntrySigned), stage, block);

    /// <summary>The site was confirmed.</summary>
    public static string EntrySiteConfirmed(string site) => Filled(nameof(EntrySiteConfirmed), site);

    /// <summary>A photo was added.</summary>
    public static string EntryPhoto => Filled(nameof(EntryPhoto));

    /// <summary>Facts were corrected.</summary>
    public static string EntryFacts(string reason) => Filled(nameof(EntryFacts), reason);

    /// <summary>The wound was measured.</summary>
    public static string EntryMeasured(string length, string width) => Filled(nameof(EntryMeasured), length, width);

    /// <summary>A dose was given.</summary>
    public static string EntryDose(string agent, string percent, string volume, string adrenaline) => Filled(nameof(EntryDose), agent, percent, volume, adrenaline);

    /// <summary>A dose was entered wrongly.</summary>
    public static string EntryDoseVoided(int number, string reason) => Filled(nameof(EntryDoseVoided), number, reason);

    /// <summary>The wound was repaired.</summary>
    public static string EntryRepair(string repair, string day) => Filled(nameof(EntryRepair), repair, day);

    /// <summary>A visit.</summary>
    public static string EntryVisit(string day, string result) => Filled(nameof(EntryVisit), day, result);

    /// <summary>A visit was corrected.</summary>
    public static string EntryVisitCorrected(int number, string day, string result, string reason) => Filled(nameof(EntryVisitCorrected), number, day, result, reason);

    /// <summary>A recurrence was found.</summary>
    public static string Recurrence => Filled(nameof(Recurrence));

    /// <summary>No recurrence was found.</summary>
    public static string NoRecurrence => Filled(nameof(NoRecurrence));

    /// <summary>A block was sent.</summary>
    public static string EntrySentForPermanent(int stage, string block) => Filled(nameof(EntrySentForPermanent), stage, block);

    /// <summary>Permanent sections came.</summary>
    public static string EntryPermanentResult(int stage, string block, string result) => Filled(nameof(EntryPermanentResult), stage, block, result);

    /// <summary>A second read was asked for.</summary>
    public static string EntrySecondReadAsked(int stage, string block, string reader) => Filled(nameof(EntrySecondReadAsked), stage, block, reader);

    /// <summary>A second read was given.</summary>
    public static string EntrySecondRead(int stage, string block, string result) => Filled(nameof(EntrySecondRead), stage, block, result);

    /// <summary>A second read was given back.</summary>
    public static string EntrySecondReadGivenBack(int stage, string block, string reason) => Filled(nameof(EntrySecondReadGivenBack), stage, block, reason);

    /// <summary>A dose with adrenaline.</summary>
    public static string WithAdrenaline => Filled(nameof(WithAdrenaline));

    /// <summary>A dose without adrenaline.</summary>
    public static string Plain => Filled(nameof(Plain));

    /// <summary>Two pieces renew the same place.</summary>
    public static string PiecesOverlap(string margin, string places) => Filled(nameof(PiecesOverlap), margin, places);

    /// <summary>Inks that don't tell ends apart.</summary>
    public static string InksUnclear(string places) => Filled(nameof(InksUnclear), places);

    /// <summary>A rim of an unusual width.</summary>
    public static string UnusualWidth(string places) => Filled(nameof(UnusualWidth), places);

    /// <summary>A first layer smaller than the lesion.</summary>
    public static string SmallerThanLesion => Filled(nameof(SmallerThanLesion));

    /// <summary>Times that can't all be right.</summary>
    public static string TimesOutOfOrder => Filled(nameof(TimesOutOfOrder));

    /// <summary>A case was opened again.</summary>
    public static string EntryReopened(string reason) => Filled(nameof(EntryReopened), reason);

    /// <summary>A reading was withdrawn.</summary>
    public static string EntryReadingWithdrawn(int stage, string block, string reason) => Filled(nameof(EntryReadingWithdrawn), stage, block, reason);

    /// <summary>A review was answered.</summary>
    public static string EntryReviewAnswered(string review, string decision, string note) => Filled(nameof(EntryReviewAnswered), review, decision, note);

    /// <summary>A stage was corrected.</summary>
    public static string EntryStageCorrected(int stage, string changes, string reason) => Filled(nameof(EntryStageCorrected), stage, changes, reason);

    /// <summary>A stage was withdrawn.</summary>
    public static string EntryStageWithdrawn(int stage, string reason) => Filled(nameof(EntryStageWithdrawn), stage, reason);

    /// <summary>A correction that changed nothing.</summary>
    public static string NothingChanged => Filled(nameof(NothingChanged));

    /// <summary>What stands now, and for what.</summary>
    public static string NowForThen(string now, string then) => Filled(nameof(NowForThen), now, then);

    /// <summary>A block whose slides show the mirror image.</summary>
    public static string MirroredBlock => Filled(nameof(MirroredBlock));

    /// <summary>A stage.</summary>
    public static string StageAlone(int stage) => Filled(nameof(StageAlone), stage);

    /// <summary>A review.</summary>
    public static string ReviewPermanent(string place) => Filled(nameof(ReviewPermanent), place);

    /// <summary>A review.</summary>
    public static string ReviewSecondRead(string place) => Filled(nameof(ReviewSecondRead), place);

    /// <summary>A review.</summary>
    public static string ReviewRecurrence => Filled(nameof(ReviewRecurrence));

    /// <summary>A review.</summary>
    public static string ReviewUpgraded => Filled(nameof(ReviewUpgraded));

    /// <summary>A review.</summary>
    public static string ReviewPositiveWithdrawn(string place) => Filled(nameof(ReviewPositiveWithdrawn), place);

    /// <summary>What keeps a case from being ended as cleared.</summary>
    public static string ReviewsOpen(string reviews) => Filled(nameof(ReviewsOpen), reviews);

    /// <summary>What keeps a case from being ended as cleared without a reason.</summary>
    public static string QuestionsOpen(string questions) => Filled(nameof(QuestionsOpen), questions);

    /// <summary>A result that is awaited.</summary>
    public static string AwaitedPermanent(string place) => Filled(nameof(AwaitedPermanent), place);

    /// <summary>A result that is awaited.</summary>
    public static string AwaitedSecondRead(string place) => Filled(nameof(AwaitedSecondRead), place);

    /// <summary>The confirmation of the site.</summary>
    public static string WaitsForTimeOut => Filled(nameof(WaitsForTimeOut));

    /// <summary>An answer to a review.</summary>
    public static string WaitsForAnswer => Filled(nameof(WaitsForAnswer));

    /// <summary>Results that are awaited.</summary>
    public static string WaitsForPermanent => Filled(nameof(WaitsForPermanent));

    /// <summary>The repair.</summary>
    public static string WaitsForRepair => Filled(nameof(WaitsForRepair));

    /// <summary>The result of a clear reading with places that were not seen or not decided.</summary>
    public static string ClearWhereSeen => Filled(nameof(ClearWhereSeen));

    /// <summary>The result of an unreadable reading of which no tissue is left.</summary>
    public static string UnreadableExhausted => Filled(nameof(UnreadableExhausted));

    /// <summary>No tissue is left of what a reading leaves undecided.</summary>
    public static string NothingLeftToRead => Filled(nameof(NothingLeftToRead));

    /// <summary>Who may correct the patient and the place of a case.</summary>
    public static string SurgeonCorrectsIdentity => Filled(nameof(SurgeonCorrectsIdentity));

    /// <summary>The outline of a whole layer as an ellipse.</summary>
    public static string EllipseOutline(string length, string width, string axis) => Filled(nameof(EllipseOutline), length, width, axis);

    /// <summary>A traced outline by its area in square millimetres.</summary>
    public static string TracedOutline(string area) => Filled(nameof(TracedOutline), area);

    /// <summary>The inks at the ends of a block, in the order of its arc.</summary>
    public static string InksAtEnds(string from, string to) => Filled(nameof(InksAtEnds), from, to);

    /// <summary>From which piece of its layer a block was cut.</summary>
    public static string CutFromPiece(int piece) => Filled(nameof(CutFromPiece), piece);

    private static string Filled(string key, params object?[] parts)
    {
        var text = Texts.GetString(key, CultureInfo.CurrentUICulture) ?? throw new MissingManifestResourceException($"There is no sentence {key}.");
        return parts.Length == 0 ? text : string.Format(CultureInfo.InvariantCulture, text, parts);
    }
}
