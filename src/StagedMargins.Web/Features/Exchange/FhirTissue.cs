using System.Globalization;
using Hl7.Fhir.Model;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>Patient, site, procedures and tissue of a case in FHIR R4: Patient, BodyStructure, Procedure, Specimen.</summary>
internal static class FhirTissue
{
    /// <summary>Adds them.</summary>
    /// <param name="told">The case.</param>
    /// <param name="origin">Where it came from, in words.</param>
    internal static void Add(FhirCase told, IReadOnlyList<string> origin)
    {
        told.Add("patient", new Patient { Identifier = { new Identifier(told.SystemOf("patients"), told.Case.PatientRef) } });
        AddSite(told);
        told.Add("case", Whole(told, origin));
        foreach (var stage in told.Case.Stages)
        {
            told.Add(Named(stage), Round(told, stage));
            told.Add(LayerOf(stage), Layer(told, stage));
            foreach (var block in stage.Blocks)
            {
                told.Add(Named(stage, block), OfBlock(told, stage, block));
            }
        }
    }

    /// <summary>The name of a stage's procedure.</summary>
    internal static string Named(Stage stage) => string.Create(CultureInfo.InvariantCulture, $"stage {stage.Number}");

    /// <summary>The name of a stage's layer.</summary>
    internal static string LayerOf(Stage stage) => $"{Named(stage)} layer";

    /// <summary>The name of a block.</summary>
    internal static string Named(Stage stage, Block block) => $"{Named(stage)} block {block.Label}";

    private static void AddSite(FhirCase told)
    {
        var facts = told.Case.Facts;
        var site = new BodyStructure
        {
            Active = true,
            Patient = told.Patient,
            Location = Topography(facts.Site),
            Morphology = FhirCase.IcdO(facts.Tumour.Morphology, TumourTypes.Find(facts.Tumour.Morphology)?.Name),
            Description = $"12 o'clock of the map points {told.Case.TwelveOClock}.",
        };
        if (facts.Site.Side is { } side and not BodySide.NotApplicable)
        {
            site.LocationQualifier.Add(FhirCase.Said(Terms.Of(side)));
        }

        told.Add("site", site);
    }

    private static CodeableConcept Topography(Site site) =>
        FhirCase.IcdO(site.Code, site.PlaceInWords());

    private static Procedure Whole(FhirCase told, IReadOnlyList<string> origin)
    {
        var surgicalCase = told.Case;
        var whole = new Procedure
        {
            Identifier = { new Identifier(told.SystemOf("cases"), surgicalCase.CaseNumber) },
            Status = surgicalCase switch
            {
                { Ending.Outcome: CaseOutcome.Cleared } => EventStatus.Completed,
                { Ending.Outcome: CaseOutcome.NotDone } => EventStatus.NotDone,
                { Ending: not null } => EventStatus.Stopped,
                { Pause: not null } => EventStatus.OnHold,
                { Stages.Count: 0 } => EventStatus.Preparation,
                _ => EventStatus.InProgress,
            },
            Code = FhirCase.Said("Staged excision of a skin tumour with examination of the whole margin"),
            Subject = told.Patient,
            Performed = PeriodOf(surgicalCase),
            Recorder = told.Person(surgicalCase.OpenedById),
            BodySite = { Topography(surgicalCase.Facts.Site) },
            Outcome = surgicalCase.Ending is null ? null : FhirCase.Said(OutcomeOf(told)),
            Note = FhirCase.Notes([.. origin, surgicalCase.Ending?.Reason is { } reason ? $"Reason: {reason}" : null, surgicalCase.Ending?.Plan is { } plan ? $"Plan: {plan}" : null]),
        };
        if (told.Person(surgicalCase.SurgeonId) is { } surgeon)
        {
            whole.Performer.Add(new Procedure.PerformerComponent { Actor = surgeon });
        }

        return whole;
    }

    // FHIR R4, datatype Period: the start is not after the end. Where the times were entered the other way round, the start is left out.
    private static Period PeriodOf(SurgicalCase surgicalCase)
    {
        var start = surgicalCase.Stages is [var first, ..] ? first.TakenAt : surgicalCase.OpenedAt;
        return new Period
        {
            StartElement = surgicalCase.Ending is { } ending && ending.EndedAt.Utc < start.Utc ? null : FhirCase.At(start),
            EndElement = surgicalCase.Ending is { } end ? FhirCase.At(end.EndedAt) : null,
        };
    }

    // What was said at the end no longer holds where the margins are not clear now, and must not be read without that.
    private static string OutcomeOf(FhirCase told) => told.Case.Ending!.Outcome == CaseOutcome.Cleared && told.Margins.State != CaseState.Cleared
        ? $"Ended as cleared; the margins are not clear now: {FhirReport.NotClear(told.Margins)}"
        : Terms.Of(told.Case.Ending.Outcome);

    private static Procedure Round(FhirCase told, Stage stage) => new()
    {
        PartOf = { told.To("case") },
        Status = EventStatus.Completed,
        Code = FhirCase.Said($"Stage {stage.Number}: layer taken and mapped"),
        Subject = told.Patient,
        Performed = FhirCase.At(stage.TakenAt),
        Recorder = told.Person(stage.RecordedById),
        BodySite = { Topography(told.Case.Facts.Site) },
        Note = FhirCase.Notes([.. stage.Alerts.Select(alert => alert.Message()), stage.ReasonForUnread is { } reason ? $"Taken before the last stage was read: {reason}" : null]),
    };

    private static Specimen Layer(FhirCase told, Stage stage) => new()
    {
        Identifier = { new Identifier(told.SystemOf("specimens"), string.Create(CultureInfo.InvariantCulture, $"{told.Case.CaseNumber}/{stage.Number}")) },
        Status = Specimen.SpecimenStatus.Available,
        Type = FhirCase.Said("Layer of skin"),
        Subject = told.Patient,
        ReceivedTimeElement = stage.TimeOf(StageMoment.Received) is { } received ? FhirCase.At(received) : null,
        Collection = new Specimen.CollectionComponent
        {
            Collected = FhirCase.At(stage.TakenAt),
            BodySite = Topography(told.Case.Facts.Site),
        },
        Note = FhirCase.Notes(stage.Pieces.Select((piece, i) => string.Create(CultureInfo.InvariantCulture, $"Piece {i + 1}: {Of(piece)}"))),
    };

    private static Specimen OfBlock(FhirCase told, Stage stage, Block block) => new()
    {
        Identifier = { new Identifier(told.SystemOf("specimens"), string.Create(CultureInfo.InvariantCulture, $"{told.Case.CaseNumber}/{stage.Number}/{block.Label}")) },
        Status = Specimen.SpecimenStatus.Available,
        Type = FhirCase.Said("Block of a layer, for sections of the margin"),
        Subject = told.Patient,
        Parent = { told.To(LayerOf(stage)) },
        Collection = new Specimen.CollectionComponent { Collected = FhirCase.At(stage.TakenAt), BodySite = FhirCase.Said(block.Region().InLabel()) },
        Note = FhirCase.Notes(
            $"Covers {block.Region().InSentence()}, clockwise from its first inked edge to its second.",
            block.FromInk is { } from ? $"Ink on the first edge: {from}" : null,
            block.ToInk is { } to ? $"Ink on the second edge: {to}" : null),
    };

    private static string Of(Piece piece) => piece.InWords() + (piece.Plane is { } plane ? $", down to {Terms.Of(plane)}" : "");
}
