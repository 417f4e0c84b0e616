using System.Text.Json;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Features.Audit;

/// <summary>A published value to compare with.</summary>
/// <param name="Figure">The figure it belongs beside, by its name in the audit.</param>
/// <param name="What">What was measured, on whom.</param>
/// <param name="Value">The value.</param>
/// <param name="Citation">Where it was published.</param>
/// <param name="Year">When.</param>
/// <param name="Certainty">How it is known here: read, abstract, secondHand, computed or fromMemory.</param>
public sealed record PublishedValue(string Figure, string What, double Value, string Citation, int Year, string Certainty);

/// <summary>
/// Published values, from the file that comes with the program or from one that a clinic names in <c>Audit:PublishedValues</c>.
/// </summary>
/// <param name="All">The values, in the order of the file.</param>
public sealed record PublishedValues(IReadOnlyList<PublishedValue> All)
{
    /// <summary>The setting that names a clinic's own file.</summary>
    public const string Setting = "Audit:PublishedValues";

    /// <summary>Reads the file.</summary>
    /// <exception cref="StartFailureException">It is not there or can't be read.</exception>
    public static PublishedValues Read(IConfiguration settings)
    {
        var path = settings[Setting] is { Length: > 0 } own ? own : Path.Combine(AppContext.BaseDirectory, "published-values.json");
        try
        {
            using var file = File.OpenRead(path);
            return new PublishedValues(JsonSerializer.Deserialize<PublishedValue[]>(file, ApiJson.Options) ?? []);
        }
        catch (Exception e) when (e is JsonException or IOException or UnauthorizedAccessException)
        {
            throw new StartFailureException($"The published values at {path} can't be read: {e.Message} Check {Setting}.");
        }
    }
}
