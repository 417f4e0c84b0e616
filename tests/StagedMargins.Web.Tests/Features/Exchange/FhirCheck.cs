using Firely.Fhir.Validation;
using Hl7.Fhir.Model;
using Hl7.Fhir.Serialization;
using Hl7.Fhir.Specification.Source;
using Hl7.Fhir.Specification.Terminology;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>
/// Checks a bundle against the base profiles and the code systems of HL7 FHIR R4 (4.0.1), from the definitions that HL7 publishes,
/// without a network. Systems that are not among them (ICD-O-3) are not looked up.
/// </summary>
internal static class FhirCheck
{
    private static readonly Lock Turn = new();
    private static readonly Lazy<Validator> Rules = new(() =>
    {
        var definitions = new CachedResolver(ZipSource.CreateValidationSource());
        return new Validator(definitions, new LocalTerminologyService(definitions));
    });

    /// <summary>The bundle of a text, if it is one by the rules; the test fails otherwise, naming each fault and no value.</summary>
    public static Bundle Valid(string text)
    {
        var bundle = new FhirJsonDeserializer().Deserialize<Bundle>(text);
        lock (Turn)
        {
            var faults = Rules.Value.Validate(bundle).Issue
                .Where(issue => issue.Severity is OperationOutcome.IssueSeverity.Error or OperationOutcome.IssueSeverity.Fatal)
                .Select(issue => $"{string.Join(", ", issue.Expression)}: {issue.Details?.Text}");
            string.Join('\n', faults).ShouldBeEmpty();
        }

        return bundle;
    }

    /// <summary>The parts of a type, in order.</summary>
    public static IReadOnlyList<T> All<T>(this Bundle bundle)
        where T : Resource => [.. bundle.Entry.Select(entry => entry.Resource).OfType<T>()];

    /// <summary>Every reference within the bundle, each of which must lead to a part of it.</summary>
    public static IReadOnlyList<string> Loose(this Bundle bundle)
    {
        var here = bundle.Entry.Select(entry => entry.FullUrl!).ToHashSet();
        here.Count.ShouldBe(bundle.Entry.Count);
        return [.. bundle.Entry.SelectMany(entry => References(entry.Resource!)).Where(to => !here.Contains(to))];
    }

    private static IEnumerable<string> References(Base resource) => resource is ResourceReference { Reference: { } to }
        ? [to]
        : resource.EnumerateElements().SelectMany(element => element.Value is IEnumerable<Base> many ? many : [.. new[] { element.Value }.OfType<Base>()]).SelectMany(References);
}
