using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using StagedMargins.Core;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>A bundle as it comes in: of everything in it, the exact record alone is read.</summary>
/// <param name="ResourceType">Bundle.</param>
/// <param name="Entry">Its parts.</param>
internal sealed record BundleFile(string? ResourceType, BundlePart?[]? Entry)
{
    private static readonly JsonSerializerOptions Loose = new(JsonSerializerDefaults.Web) { UnmappedMemberHandling = JsonUnmappedMemberHandling.Skip, AllowDuplicateProperties = false };

    /// <summary>SHA-256 of a bundle as it came, hexadecimal.</summary>
    internal static string DigestOf(byte[] bundle) => Convert.ToHexStringLower(SHA256.HashData(bundle));

    /// <summary>The exact record in a bundle.</summary>
    /// <exception cref="BadHttpRequestException">It is not well-formed JSON.</exception>
    /// <exception cref="InvalidEntryException">It is no bundle of this program.</exception>
    internal static CaseRecord RecordIn(byte[] bundle)
    {
        var file = Read<BundleFile>(bundle, Loose);
        var records = (file.ResourceType == "Bundle" ? file.Entry ?? [] : [])
            .Select(part => part?.Resource)
            .OfType<BundleResource>()
            .Where(resource => resource is { ResourceType: "Binary", ContentType: FhirBundle.RecordType, Data: not null })
            .ToList();
        return records is [{ Data: { } record }]
            ? Read<CaseRecord>(record, ApiJson.Options)
            : throw new InvalidEntryException("body", "Send a FHIR bundle exported by this program, with exactly one Binary that holds the record.");
    }

    private static T Read<T>(byte[] json, JsonSerializerOptions options)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize<T>(json, options) ?? throw new InvalidEntryException("body", "Send one JSON object.");
        }
        catch (JsonException e)
        {
            throw new BadHttpRequestException("The bundle can't be read.", e);
        }
    }
}

/// <summary>A part of a bundle.</summary>
/// <param name="Resource">What it is.</param>
internal sealed record BundlePart(BundleResource? Resource);

/// <summary>A resource of a bundle, as far as it is read.</summary>
/// <param name="ResourceType">Its type.</param>
/// <param name="ContentType">The media type of a Binary.</param>
/// <param name="Data">The content of a Binary.</param>
internal sealed record BundleResource(string? ResourceType, string? ContentType, byte[]? Data);
