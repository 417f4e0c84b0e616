using Hl7.Fhir.Model;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;
using StagedMargins.Core.Wording;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>Readings and the defect in FHIR R4: Observation.</summary>
internal static class FhirReadings
{
    private const string Category = "http://terminology.hl7.org/CodeSystem/observation-category";

    /// <summary>Adds them.</summary>
    /// <returns>The names of what counts now: the reading of each block that does, and the defect.</returns>
    internal static IReadOnlyList<string> Add(FhirCase told)
    {
        var counting = new List<string>();
        foreach (var (stage, block) in told.Case.Stages.SelectMany(stage => stage.Blocks.Select(block => (stage, block))))
        {
            foreach (var reading in block.Readings)
            {
                told.Add(Named(reading.Id), Of(told, stage, block, reading));
            }

            counting.AddRange(block.CountingReading is { } counts ? [Named(counts.Id)] : Array.Empty<string>());
        }

        if (Defect.After(told.Case.Stages) is { } defect)
        {
            told.Add("defect", Computed(told, defect.Size));
            counting.Add("defect");
        }

        foreach (var measured in told.Case.MeasuredDefects)
        {
            told.Add($"measured {measured.Ordinal}", Measured(told, measured));
        }

        counting.AddRange(told.Case.MeasuredDefects is [.., var last] ? [$"measured {last.Ordinal}"] : Array.Empty<string>());
        return counting;
    }

    private static string Named(Guid readingId) => $"reading {readingId:D}";

    // A reading that was amended no longer counts, so that it is told as entered in error; the one in its place is amended, once signed.
    private static Observation Of(FhirCase told, Stage stage, Block block, Reading reading)
    {
        var amendedBy = block.AmendmentOf(reading);
        var observation = Bare(told, "laboratory", $"Reading of the margin of stage {stage.Number}, block {block.Label}", reading.ReadAt);
        observation.Status = (amendedBy, reading) switch
        {
            (not null, _) => ObservationStatus.EnteredInError,
            (_, { SignedById: null }) => ObservationStatus.Preliminary,
            (_, { AmendsId: not null }) => ObservationStatus.Amended,
            _ => ObservationStatus.Final,
        };
        observation.PartOf.Add(told.To(FhirTissue.Named(stage)));
        observation.Specimen = told.To(FhirTissue.Named(stage, block));
        observation.Performer.Add(told.Person(reading.ReaderId));
        observation.Issued = reading.RecordedAt.ToDateTimeOffset();
        observation.Value = FhirCase.Said(Terms.Of(reading.Outcome));
        observation.Component.AddRange(reading.Findings.SelectMany(Of));
        if (reading.AmendsId is { } amends)
        {
            observation.DerivedFrom.Add(told.To(Named(amends)));
        }

        observation.Note = FhirCase.Notes(
            ReadingSentence.Of(stage, block, reading),
            amendedBy is null ? null : "Amended by a later reading; no longer counts.",
            reading.Reason is { } reason ? $"Amends the reading before it: {reason}" : null,
            reading.SignedById is null && amendedBy is null ? "To be countersigned by the reader." : null,
            reading.Note);
        return observation;
    }

    private static IEnumerable<Observation.ComponentComponent> Of(Finding finding)
    {
        var what = $"{Terms.Of(finding.Kind)} at the {Terms.Of(finding.Margin)}";
        yield return new Observation.ComponentComponent { Code = FhirCase.Said($"{what}: place on the clock face"), Value = new FhirString(finding.Region().InLabel()) };
        if (finding.Arc is { } arc)
        {
            yield return new Observation.ComponentComponent { Code = FhirCase.Said($"{what}: degrees clockwise from 12 o'clock"), Value = FhirCase.Degrees(arc) };
        }
    }

    private static Observation Computed(FhirCase told, DefectSize size)
    {
        var computed = Bare(told, "procedure", "Defect, computed from the layers", told.Case.Stages[^1].TakenAt);
        computed.Status = told.Case.Ending is null ? ObservationStatus.Preliminary : ObservationStatus.Final;
        computed.PartOf.Add(told.To("case"));
        computed.Component.AddRange(
        [
            Size("Length", "mm", size.LengthMm), Size("Width", "mm", size.WidthMm), Size("Area", "mm2", size.AreaMm2), Size("Perimeter", "mm", size.PerimeterMm),
            .. Depth(size.Plane),
        ]);
        return computed;
    }

    private static Observation Measured(FhirCase told, MeasuredDefect measured)
    {
        var observation = Bare(told, "procedure", "Defect, measured by the surgeon", measured.RecordedAt);
        observation.Status = measured.Ordinal < told.Case.MeasuredDefects.Count ? ObservationStatus.EnteredInError
            : measured.Ordinal > 1 ? ObservationStatus.Amended : ObservationStatus.Final;
        observation.PartOf.Add(told.To("case"));
        observation.Performer.Add(told.Person(measured.RecordedById));
        observation.Component.AddRange([Size("Length", "mm", measured.Length.Millimetres), Size("Width", "mm", measured.Width.Millimetres), .. Depth(measured.Plane)]);
        if (measured.Ordinal > 1)
        {
            observation.DerivedFrom.Add(told.To($"measured {measured.Ordinal - 1}"));
        }

        observation.Note = FhirCase.Notes(measured.Reason);
        return observation;
    }

    private static Observation Bare(FhirCase told, string category, string code, ClinicalTime at) => new()
    {
        Category = { new CodeableConcept(Category, category) },
        Code = FhirCase.Said(code),
        Subject = told.Patient,
        Effective = FhirCase.At(at),
    };

    private static Observation.ComponentComponent Size(string what, string unit, double value) =>
        new() { Code = FhirCase.Said(what), Value = FhirCase.In(unit, value) };

    private static IEnumerable<Observation.ComponentComponent> Depth(AnatomicalPlane? plane) => plane is { } known
        ? [new Observation.ComponentComponent { Code = FhirCase.Said("Deepest plane"), Value = FhirCase.Said(Terms.Of(known)) }]
        : [];
}
