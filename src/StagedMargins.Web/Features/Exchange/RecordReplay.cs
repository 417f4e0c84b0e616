using System.Text.Json;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Photos;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.History;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>
/// Enters a record from elsewhere anew, each entry by the verb of the case that entered it there, so that nothing gets in that
/// could not have been entered here. Each entry keeps its time and its author, and is sealed in a history of its own.
/// </summary>
/// <param name="db">The record; the caller holds a transaction.</param>
/// <param name="history">Seals each change.</param>
/// <param name="clinic">The clinic that takes the case.</param>
/// <param name="people">The authors as they are known here.</param>
/// <param name="record">What was entered there.</param>
/// <param name="caseNumber">The number that the case gets.</param>
internal sealed class RecordReplay(ClinicContext db, HistoryChain history, Clinic clinic, ImportedPeople people, CheckedRecord record, string caseNumber)
{
    private SurgicalCase? replayed;

    /// <summary>Enters everything.</summary>
    /// <exception cref="InvalidEntryException">An entry can't be read.</exception>
    /// <exception cref="RuleViolationException">The rules of the record forbid an entry where it stands.</exception>
    internal async Task<SurgicalCase> PlayAsync(CancellationToken cancel)
    {
        var unsaved = new UnsavedChanges();
        foreach (var entry in record.Entries)
        {
            var byId = people.Here(entry.By);
            Named(entry, () => Play(entry, byId));
            await history.AppendAsync(db, replayed!, entry.What, JsonSerializer.Serialize(entry.Content, ApiJson.Options), byId, entry.At, cancel, unsaved);
        }

        await db.SaveChangesAsync(cancel);
        return replayed!;
    }

    private void Play(CheckedEntry entry, Guid byId)
    {
        if (replayed is null)
        {
            Open(entry, byId);
            return;
        }

        var change = new Change(replayed, clinic, people.Names, byId, entry.At);
        Enter(entry, change);
        if (replayed.Head.Version != entry.Sequence)
        {
            throw new InvalidEntryException("sequence", "Each entry is one change of the case; entries are numbered from 1.");
        }
    }

    private void Open(CheckedEntry entry, Guid byId)
    {
        if (entry.What != "openCase")
        {
            throw new InvalidEntryException("what", "The first entry must open the case.");
        }

        var body = entry.As<CaseBody>();
        replayed = new SurgicalCase(clinic.Id, caseNumber, body.ToOpening().Opening with { SurgeonId = body.SurgeonOf(people.Names), Id = record.CaseId }, BoundaryOf(entry), byId, entry.At);
        db.Add(replayed);
    }

    // What is entered in a case, by the words of its history. A word that is not here was made by another version of the program.
    private void Enter(CheckedEntry entry, Change change)
    {
        var (surgicalCase, byId, at) = (change.Case, change.ById, change.At);
        switch (entry.What)
        {
            case "recordLayer": RecordLayer(entry, change); break;
            case "addBlock": var added = entry.As<Contract.BlockAdded>(); surgicalCase.AddBlock(added.Stage, added.Block.ToEntry(), byId, at); break;
            case "recordTimes": var times = entry.As<TimesEntered>(); surgicalCase.RecordTimes(times.Stage, times.Times.ToMoments(), byId, at); break;
            case "recordReading" or "amendReading": Read(entry, change); break;
            case "countersign": surgicalCase.Countersign(entry.As<ReadingSigned>().ReadingId, byId, at); break;
            case "endCase": entry.As<EndBody>().End(change); break;
            case "measureDefect": surgicalCase.Measure(entry.As<MeasuredDefectBody>().ToEntry(), byId, at); break;
            case "correctFacts": entry.As<FactsCorrectionBody>().Correct(change, BoundaryOf(entry)); break;
            case "confirmSite": surgicalCase.ConfirmSite(FreeText.Optional("note", entry.As<SiteConfirmationBody>().Note), byId, at); break;
            case PhotoAdded.What: surgicalCase.AddSitePhoto(PhotoOf(entry), byId, at); break;
            case "importCase": surgicalCase.NoteImport(entry.As<CaseImported>(), byId, at); break;
            default: EnterCare(entry, change); break;
        }
    }

    private static void EnterCare(CheckedEntry entry, Change change)
    {
        var (surgicalCase, byId, at) = (change.Case, change.ById, change.At);
        switch (entry.What)
        {
            case "giveAnaesthetic": surgicalCase.RecordDose(entry.As<DoseBody>().ToEntry(at), byId, at); break;
            case "voidAnaesthetic": var voided = entry.As<DoseVoided>(); surgicalCase.VoidDose(voided.Dose, voided.Reason, byId, at); break;
            case "recordRepair": surgicalCase.RecordRepair(entry.As<RepairBody>().ToEntry(), byId, at); break;
            case "recordVisit": surgicalCase.RecordVisit(entry.As<VisitBody>().ToEntry(), byId, at); break;
            case "sendPermanentSection": entry.As<BlockSent>().Send(change); break;
            case "reportPermanentSection":
                var reported = entry.As<ResultReported>();
                surgicalCase.ReportPermanentSection(reported.Stage, reported.Block, reported.Result.ToEntry(at), byId, at);
                break;
            case "askSecondRead":
                var asked = entry.As<Contract.SecondReadAsked>();
                surgicalCase.AskSecondRead(asked.Stage, asked.Block, change.People.SurgeonOf("readerEmail", asked.SecondRead.ReaderEmail ?? ""), byId, at);
                break;
            case "answerSecondRead" or "giveBackSecondRead":
                var said = entry.As<SecondReadSubmitted>();
                said.Record(change);
                break;
            default:
                throw new InvalidEntryException("what", "This version can't import an entry of this kind. Nothing was imported; use the version of the program that made the export.");
        }
    }

    // The overlap of that day is not kept; what was said of the layer is, and it must be said again word for word.
    private void RecordLayer(CheckedEntry entry, Change change)
    {
        var body = entry.As<StageBody>();
        var said = JsonSerializer.Serialize(entry.Alerts, ApiJson.Options);
        var layer = body.ToLayer(change.At);
        var overlaps = Enumerable.Range(Overlap.Least, Overlap.Most - Overlap.Least + 1).Select(minutes => new Overlap(minutes));
        var overlap = overlaps.Prepend(record.Overlap).Select(one => (Overlap?)one)
            .FirstOrDefault(one => JsonSerializer.Serialize(RecordedAlert.Of(change.Case.Preview(layer, one!.Value, change.At).Alerts), ApiJson.Options) == said)
            ?? throw new InvalidEntryException("alerts", "These alerts do not match this layer.");
        body.Record(change, overlap);
    }

    private static void Read(CheckedEntry entry, Change change)
    {
        var written = entry.As<Contract.ReadingWritten>();
        var id = entry.ReadingId ?? throw new InvalidEntryException("readingId", "Required.");
        if (written.Reading.Amends is null != (entry.What == "recordReading"))
        {
            throw new InvalidEntryException("what", "An amendment must name the reading it amends; any other reading must not.");
        }

        written.Record(change, id);
    }

    private static BarePicture PhotoOf(CheckedEntry entry)
    {
        var picture = PhotoFile.ReadBare(entry.Photo ?? throw new InvalidEntryException("photo", "Required."));
        return PhotoAdded.Of(picture) == entry.As<PhotoAdded>()
            ? picture
            : throw new InvalidEntryException("photo", "This photo does not match the entry.");
    }

    private static SizeBoundary BoundaryOf(CheckedEntry entry) => entry.Risk switch
    {
        { SizeBoundary: { } boundary, RuleVersion: RiskAssessment.CurrentRules } => boundary,
        { SizeBoundary: not null } => throw new InvalidEntryException("risk.ruleVersion", $"This program assesses risk by rules {RiskAssessment.CurrentRules}; assessments by other rules can't be imported."),
        _ => throw new InvalidEntryException("risk", "Required when facts are entered."),
    };

    // Every refusal names the entry that it is about.
    private static void Named(CheckedEntry entry, Action play)
    {
        var name = FormattableString.Invariant($"entries[{entry.Sequence - 1}]");
        try
        {
            play();
        }
        catch (InvalidEntryException e)
        {
            throw e.Within(name);
        }
        catch (InvalidRequestException e)
        {
            throw new InvalidRequestException(e.Errors.ToDictionary(error => $"{name}.{error.Key}", error => error.Value));
        }
        catch (NotInRecordException e)
        {
            throw new InvalidEntryException(name, e.Message);
        }
        catch (RuleViolationException e)
        {
            throw new RuleViolationException(e.Rule, $"Entry {entry.Sequence} ({entry.What}) is not possible at this point. {e.Message}", e.Places);
        }
    }
}
