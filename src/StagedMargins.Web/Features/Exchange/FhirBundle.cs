using System.Text.Json;
using Hl7.Fhir.Model;
using Hl7.Fhir.Serialization;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>A case as a FHIR R4 Bundle of type collection. The same case gives the same bytes.</summary>
internal static class FhirBundle
{
    /// <summary>The media type.</summary>
    internal const string MediaType = "application/fhir+json";

    /// <summary>The media type of the exact record within.</summary>
    internal const string RecordType = "application/json";

    /// <summary>The bundle of a case.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="entries">Its entries, in order.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    /// <param name="people">The people of the clinic.</param>
    /// <param name="photos">The files of its photos, by their digest.</param>
    internal static byte[] Write(SurgicalCase surgicalCase, IReadOnlyList<KnownEntry> entries, Overlap overlap, ClinicPeople people, IReadOnlyDictionary<string, byte[]> photos)
    {
        var told = new FhirCase(surgicalCase, overlap, people);
        var lastChange = entries[^1].At;
        FhirTissue.Add(told, CaseOrigin.Of(entries));
        FhirReport.Add(told, FhirReadings.Add(told), lastChange);
        told.Add("record", new Binary
        {
            ContentType = RecordType,
            Data = JsonSerializer.SerializeToUtf8Bytes(CaseRecord.Of(surgicalCase, entries, people, photos), ApiJson.Options),
        });
        var bundle = new Bundle
        {
            Id = StableIds.Derive(surgicalCase.Id, "bundle").ToString("D"),
            Identifier = new Identifier(told.SystemOf("bundles"), FormattableString.Invariant($"{surgicalCase.CaseNumber}/{surgicalCase.Version}")),
            Type = Bundle.BundleType.Collection,
            Timestamp = lastChange.ToDateTimeOffset(),
            Entry = [.. told.Parts.Select(part => new Bundle.EntryComponent { FullUrl = $"urn:uuid:{part.Id}", Resource = part })],
        };
        return new FhirJsonSerializer().SerializeToBytes(bundle);
    }
}
