using System.Text.Json;
using System.Text.Json.Nodes;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.History;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Demo;

/// <summary>Plays an invented case through the verbs of the record, at the times it is said to have happened.</summary>
/// <param name="db">The record.</param>
/// <param name="chain">Seals each change.</param>
/// <param name="clinic">The clinic.</param>
/// <param name="people">Its people by address.</param>
/// <param name="now">The present, before which everything happened.</param>
internal sealed class DemoReplay(ClinicContext db, HistoryChain chain, Clinic clinic, IReadOnlyDictionary<string, Guid> people, DateTimeOffset now)
{
    private UnsavedChanges unsaved = new();
    private readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(clinic.TimeZone);

    /// <summary>Writes the case and its history.</summary>
    internal async Task PlayAsync(DemoCase demo, string caseNumber)
    {
        var start = StartOf(demo);
        var errors = new FieldErrors();
        var facts = demo.Case.ToFacts(errors);
        errors.ThrowIfAny();
        Guid? surgeon = demo.Case.SurgeonEmail is { } email ? people[email] : null;
        var opening = new NewCase(demo.Case.PatientRef, surgeon, facts, demo.Case.TwelveOClock);
        var played = new SurgicalCase(clinic.Id, caseNumber, opening, clinic.SizeBoundary, people[demo.OpenedBy], ClinicalTime.From(start));
        db.ChangeTracker.AutoDetectChangesEnabled = false;
        db.Add(played);
        await WriteAsync(played, "openCase", demo.Case, demo.OpenedBy, start);
        foreach (var step in demo.Events)
        {
            var at = start.AddMinutes(step.AfterMinutes);
            var (what, entry) = Step(played, step, start, at, people[step.By]);
            await WriteAsync(played, what, entry, step.By, at);
        }

        // One transaction holds all of it, so it is saved once, with the summary of how the case stands in the end.
        await db.UpdateAuditAsync(played, CancellationToken.None);
        db.ChangeTracker.AutoDetectChangesEnabled = true;
        await db.SaveChangesAsync();
        db.ChangeTracker.Clear();
        unsaved = new UnsavedChanges();
    }

    // Looked through for changes once for each entry; left to itself the context would do it at every step.
    private Task WriteAsync(SurgicalCase played, string what, object entry, string by, DateTimeOffset at)
    {
        db.ChangeTracker.DetectChanges();
        return chain.AppendAsync(
            db, played, what, JsonSerializer.Serialize(entry, ApiJson.Options), people[by], ClinicalTime.From(at), CancellationToken.None, unsaved);
    }

    private (string What, object Entry) Step(SurgicalCase played, DemoEvent step, DateTimeOffset start, DateTimeOffset at, Guid byId)
    {
        var written = ClinicalTime.From(at);
        switch (step)
        {
            case { ConfirmSite: { } confirmation }:
                played.ConfirmSite(confirmation.Note, byId, written);
                return ("confirmSite", confirmation);
            case { Stage: { } stage }:
                played.RecordLayer(stage.ToLayer(written), clinic.Overlap, byId, written);
                return ("recordLayer", stage);
            case { Times: { } times }:
                var timesBody = new TimesBody(After(start, times.ReceivedAfterMinutes), After(start, times.SlidesReadyAfterMinutes));
                played.RecordTimes(times.Stage, timesBody.ToMoments(), byId, written);
                return ("recordTimes", new TimesEntered(times.Stage, timesBody));
            case { Reading: { } reading }:
                return Read(played, reading, byId, written);
            case { Countersign: { } place }:
                var signed = played.StageOf(place.Stage).BlockOf(place.Block).CountingReading!;
                played.Countersign(signed.Id, byId, written);
                return ("countersign", new ReadingSigned(signed.Id));
            case { Block: { } block }:
                var (blockStage, blockBody) = (Pop(block, "stage").GetValue<int>(), DemoFiles.As<BlockBody>(block));
                played.AddBlock(blockStage, blockBody.ToEntry(), byId, written);
                return ("addBlock", new BlockAdded(blockStage, blockBody));
            case { End: { } end }:
                var endBody = end with { EndedAt = at };
                var (ending, measured) = endBody.ToEntry(written);
                played.End(ending, measured, byId, written);
                return ("endCase", endBody);
            default:
                return Care(played, step, at, byId);
        }
    }

    private (string What, object Entry) Care(SurgicalCase played, DemoEvent step, DateTimeOffset at, Guid byId)
    {
        var (written, day) = (ClinicalTime.From(at), DateOnly.FromDateTime(at.Date));
        switch (step)
        {
            case { Dose: { } dose }:
                var given = dose with { GivenAt = at };
                played.RecordDose(given.ToEntry(written), byId, written);
                return ("giveAnaesthetic", given);
            case { Repair: { } repair }:
                var repaired = repair with { RepairedOn = day };
                played.RecordRepair(repaired.ToEntry(), byId, written);
                return ("recordRepair", repaired);
            case { Visit: { } visit }:
                var visited = visit with { VisitedOn = day };
                played.RecordVisit(visited.ToEntry(), byId, written);
                return ("recordVisit", visited);
            case { PermanentSection: { } sent }:
                played.SendForPermanentSection(sent.Stage, sent.Block, written, sent.Note, byId, written);
                return ("sendPermanentSection", new BlockSent(sent.Stage, sent.Block, new PermanentSectionBody(at, sent.Note)));
            case { PermanentResult: { } shown }:
                var result = new PermanentResultBody(shown.Outcome, at, null, null);
                played.ReportPermanentSection(shown.Stage, shown.Block, result.ToEntry(written), byId, written);
                return ("reportPermanentSection", new ResultReported(shown.Stage, shown.Block, result));
            case { SecondRead: { } asked }:
                played.AskSecondRead(asked.Stage, asked.Block, people[asked.ReaderEmail], byId, written);
                return ("askSecondRead", new SecondReadAsked(asked.Stage, asked.Block, new SecondReadBody(asked.ReaderEmail)));
            case { SecondReadAnswer: { } said }:
                played.AnswerSecondRead(said.Number, said.Outcome!.Value, said.Note, byId, written);
                return ("answerSecondRead", said);
            default:
                throw new FormatException("A step of the demo clinic says nothing.");
        }
    }

    private (string What, object Entry) Read(SurgicalCase played, JsonObject reading, Guid byId, ClinicalTime written)
    {
        var (stage, label) = (Pop(reading, "stage").GetValue<int>(), Pop(reading, "block").GetValue<string>());
        var counting = played.StageOf(stage).BlockOf(label).CountingReading?.Id;
        var amends = reading.Remove("amends", out var said) && said is not null;
        var body = DemoFiles.As<ReadingBody>(reading) with { Amends = amends ? counting : null };
        played.RecordReading(stage, label, body.ToEntry(written) with { ReaderId = people[body.ReaderEmail!] }, byId, written);
        return (amends ? "amendReading" : "recordReading", new ReadingWritten(stage, label, body));
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
