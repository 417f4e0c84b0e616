using Hl7.Fhir.Model;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>A case as it is told in FHIR R4: its parts, and how they name each other. Elements follow HL7 FHIR R4 (4.0.1).</summary>
/// <param name="surgicalCase">The case.</param>
/// <param name="overlap">The clinic's overlap.</param>
/// <param name="people">The people of the clinic.</param>
internal sealed class FhirCase(SurgicalCase surgicalCase, Overlap overlap, ClinicPeople people)
{
    /// <summary>Units of Measure, UCUM.</summary>
    private const string Ucum = "http://unitsofmeasure.org";

    private const string IcdO3 = "http://terminology.hl7.org/CodeSystem/icd-o-3";
    private readonly List<Resource> parts = [];

    /// <summary>The case.</summary>
    internal SurgicalCase Case => surgicalCase;

    /// <summary>The clinic's overlap.</summary>
    internal Overlap Overlap => overlap;

    /// <summary>The margins after the last stage.</summary>
    internal CaseMargins Margins { get; } = surgicalCase.Margins(overlap);

    /// <summary>What was added, in order.</summary>
    internal IReadOnlyList<Resource> Parts => parts;

    /// <summary>The patient, of whom nothing is told but the clinic's number.</summary>
    internal ResourceReference Patient => To("patient");

    /// <summary>The system in which the clinic numbers something.</summary>
    internal string SystemOf(string what) => StableIds.Urn(StableIds.Derive(surgicalCase.ClinicId, what));

    /// <summary>Adds a part under the number of its name.</summary>
    internal void Add(string name, Resource part)
    {
        part.Id = StableIds.Derive(surgicalCase.Id, name).ToString("D");
        parts.Add(part);
    }

    /// <summary>A reference to the part of a name.</summary>
    internal ResourceReference To(string name) => new(StableIds.Urn(StableIds.Derive(surgicalCase.Id, name)));

    /// <summary>Someone of the clinic by number and address; null for nobody.</summary>
    internal ResourceReference? Person(Guid? id) => id is { } known ? Person(known) : null;

    /// <summary>Someone of the clinic by number and address.</summary>
    internal ResourceReference Person(Guid id) =>
        new() { Identifier = new Identifier(SystemOf("people"), id.ToString("D")), Display = people.EmailOf(id) };

    /// <summary>A code of ICD-O-3, with the words of the clinic beside it.</summary>
    internal static CodeableConcept IcdO(string code, string? text) => new(IcdO3, code) { Text = text };

    /// <summary>A concept in words alone.</summary>
    internal static CodeableConcept Said(string text) => new() { Text = text };

    /// <summary>A quantity in a unit of UCUM, to six significant digits.</summary>
    internal static Quantity In(string unit, double value) => new((decimal)Figures.Significant(value), unit, Ucum);

    /// <summary>An arc in degrees clockwise from 12 o'clock. Where it crosses 12 the higher end is beyond 360.</summary>
    internal static Hl7.Fhir.Model.Range Degrees(ClockArc arc) => new()
    {
        Low = new Quantity(arc.From.Minutes / 2m, "deg", Ucum),
        High = new Quantity((arc.From.Minutes + arc.Minutes) / 2m, "deg", Ucum),
    };

    /// <summary>A time with the offset of the clinic's clock.</summary>
    internal static FhirDateTime At(ClinicalTime time) => new(time.ToDateTimeOffset());

    /// <summary>Remarks, those that are there.</summary>
    internal static List<Annotation> Notes(params IEnumerable<string?> notes) => [.. notes.OfType<string>().Select(note => new Annotation { Text = new Markdown(note) })];
}
