using System.Text.Json.Nodes;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.Patients;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Demo;

/// <summary>Plays an invented case through the verbs of the record, at the times it is said to have happened.</summary>
/// <param name="db">The record.</param>
/// <param name="ledger">Seals each entry.</param>
/// <param name="patients">Finds and adds patients.</param>
/// <param name="clinic">The clinic.</param>
/// <param name="known">Its people by number, as authors.</param>
/// <param name="people">Its people by address.</param>
/// <param name="now">The present, before which everything happened.</param>
internal sealed class DemoReplay(ClinicContext db, LedgerWriter ledger, PatientDesk patients, Clinic clinic, ClinicPeople known, IReadOnlyDictionary<string, Guid> people, DateTimeOffset now)
{
    private readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(clinic.TimeZone);

    /// <summary>Writes the case.</summary>
    internal async Task PlayAsync(DemoCase demo, string caseNumber)
    {
        var start = StartOf(demo);
        var errors = new FieldErrors();
        var facts = demo.Case.ToFacts(errors);
        errors.ThrowIfAny();
        Guid? surgeon = demo.Case.SurgeonEmail is { } email ? people[email] : null;
        var opened = ClinicalTime.From(start);
        var patient = await patients.FindOrAddAsync(db, clinic.Id, demo.Case.PatientRef!, known.AuthorOf(people[demo.OpenedBy]), opened, CancellationToken.None);
        var opening = new NewCase(demo.Case.PatientRef, surgeon, facts, demo.Case.TwelveOClock, PatientId: patient.Id);
        var played = new CaseLog(clinic.Id, caseNumber, opening, clinic.SizeBoundary, people[demo.OpenedBy], opened);
        foreach (var step in demo.Events)
        {
            Take(played, step, start, start.AddMinutes(step.AfterMinutes), people[step.By]);
        }

        var entries = played.NewEntries.Select(entry => new EntryToWrite(entry.Event, known.AuthorOf(entry.Written.ById), entry.Written.At)).ToList();
        await ledger.AppendAsync(db, played.Case, entries, Guid.CreateVersion7(), CancellationToken.None, patient: patient.ToWrite);
        await db.SaveChangesAsync();
        db.ChangeTracker.Clear();
    }

    private void Take(CaseLog played, DemoEvent step, DateTimeOffset start, DateTimeOffset at, Guid byId)
    {
        var written = ClinicalTime.From(at);
        switch (step)
        {
            case { ConfirmSite: { } confirmation }:
                played.ConfirmSite(confirmation.Note, byId, written);
                break;
            case { Stage: { } stage }:
                played.RecordLayer(stage.ToLayer(written, clinic), clinic.Overlap, byId, written);
                break;
            case { Times: { } times }:
                var timesBody = new TimesBody(After(start, times.ReceivedAfterMinutes), After(start, times.SlidesReadyAfterMinutes));
                played.RecordTimes(times.Stage, timesBody.ToMoments(), byId, written);
                break;
            case { Reading: { } reading }:
                Read(played, reading, byId, written);
                break;
            case { Countersign: { } place }:
                var signed = played.Case.StageOf(place.Stage).BlockOf(place.Block).CountingReading!;
                played.Countersign(signed.Id, byId, written);
                break;
            case { Block: { } block }:
                var (blockStage, blockBody) = (Pop(block, "stage").GetValue<int>(), DemoFiles.As<BlockBody>(block));
                played.AddBlock(blockStage, blockBody.ToEntry(clinic), byId, written);
                break;
            case { End: { } end }:
                var endBody = end with { EndedAt = at };
                var (ending, measured) = endBody.ToEntry(written);
                played.End(ending, measured, byId, written);
                break;
            default:
                TakeCare(played, step, at, byId);
                break;
        }
    }

    private void TakeCare(CaseLog played, DemoEvent step, DateTimeOffset at, Guid byId)
    {
        var (written, day) = (ClinicalTime.From(at), DateOnly.FromDateTime(at.Date));
        switch (step)
        {
            case { Dose: { } dose }:
                var given = dose with { GivenAt = at };
                played.RecordDose(given.ToEntry(written), byId, written);
                break;
            case { Repair: { } repair }:
                var repaired = repair with { RepairedOn = day };
                played.RecordRepair(repaired.ToEntry(), byId, written);
                break;
            case { Visit: { } visit }:
                var visited = visit with { VisitedOn = day };
                played.RecordVisit(visited.ToEntry(), byId, written);
                break;
            case { PermanentSection: { } sent }:
                played.SendForPermanentSection(sent.Stage, sent.Block, written, sent.Note, byId, written);
                break;
            case { PermanentResult: { } shown }:
                var result = new PermanentResultBody(shown.Outcome, at, null, null);
                played.ReportPermanentSection(shown.Stage, shown.Block, result.ToEntry(written), byId, written);
                break;
            case { SecondRead: { } asked }:
                played.AskSecondRead(asked.Stage, asked.Block, people[asked.ReaderEmail], byId, written);
                break;
            case { AnswerReviews: { } answer }:
                foreach (var review in played.Case.OpenReviews().ToList())
                {
                    played.AnswerReview(review.Id, answer.Decision!.Value, answer.Note, byId, written);
                }

                break;
            case { SecondReadAnswer: { } said }:
                played.AnswerSecondRead(said.Number, said.Outcome!.Value, said.Note, byId, written);
                break;
            default:
                throw new FormatException("A step of the demo clinic says nothing.");
        }
    }

    private void Read(CaseLog played, JsonObject reading, Guid byId, ClinicalTime written)
    {
        var (stage, label) = (Pop(reading, "stage").GetValue<int>(), Pop(reading, "block").GetValue<string>());
        var counting = played.Case.StageOf(stage).BlockOf(label).CountingReading?.Id;
        var amends = reading.Remove("amends", out var said) && said is not null;
        var body = DemoFiles.As<ReadingBody>(reading) with { Amends = amends ? counting : null };
        played.RecordReading(stage, label, body.ToEntry(written) with { ReaderId = people[body.ReaderEmail!] }, byId, written);
    }

    private static DateTimeOffset? After(DateTimeOffset start, int? minutes) => minutes is { } known ? start.AddMinutes(known) : null;

    private static JsonNode Pop(JsonObject from, string field)
    {
        from.Remove(field, out var value);
        return value!;
    }

    // Weekends are free; and a case of today has begun early enough for all of it to lie in the past.
    private DateTimeOffset StartOf(DemoCase demo)
    {
        var today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(now, zone).DateTime);
        var day = today.AddDays(-demo.DaysAgo);
        while (demo.DaysAgo > 0 && day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday)
        {
            day = day.AddDays(-1);
        }

        var local = day.ToDateTime(demo.StartsAt);
        var start = new DateTimeOffset(local, zone.GetUtcOffset(local));
        var latest = now.AddMinutes(-5 - demo.Events.Max(step => step.AfterMinutes));
        return start <= latest ? start : TimeZoneInfo.ConvertTime(latest, zone);
    }
}
