using System.Globalization;
using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Finds and compares parts of JSON.</summary>
public static class JsonPaths
{
    /// <summary>The part at a path such as <c>stages[0].alerts</c>, or null where it is null.</summary>
    /// <exception cref="KeyNotFoundException">The path leads over a field that is not there: a misspelt path never passes for null.</exception>
    public static JsonNode? At(this JsonNode node, string path)
    {
        JsonNode? at = node;
        foreach (var step in path.Split('.').SelectMany(Steps))
        {
            at = step switch
            {
                int index => at![index],
                string name when at is JsonObject o && o.TryGetPropertyValue(name, out var value) => value,
                _ => throw new KeyNotFoundException($"No '{step}' on the way to '{path}'."),
            };
        }

        return at;
    }

    /// <summary>Fails unless a part is equal, as JSON, to a text; says where they part, and never a patient reference.</summary>
    public static void ShouldBeJson(this JsonNode? actual, string expected) => Difference("$", actual, JsonNode.Parse(expected)).ShouldBeNull();

    /// <summary>The names of an object's fields, in their order.</summary>
    public static IReadOnlyList<string> Fields(this JsonNode? node) => [.. node!.AsObject().Select(field => field.Key)];

    private static string? Difference(string path, JsonNode? actual, JsonNode? expected) => (actual, expected) switch
    {
        _ when JsonNode.DeepEquals(actual, expected) => null,
        _ when path.EndsWith(".patientRef", StringComparison.Ordinal) => $"{path} differs",
        (JsonObject a, JsonObject e) when a.Count == e.Count && a.All(field => e.ContainsKey(field.Key)) =>
            a.Select(field => Difference($"{path}.{field.Key}", field.Value, e[field.Key])).First(difference => difference is not null),
        (JsonObject a, JsonObject e) => $"{path} has the fields {string.Join(", ", a.Fields())}, not {string.Join(", ", e.Fields())}",
        (JsonArray a, JsonArray e) when a.Count == e.Count =>
            a.Select((item, i) => Difference(string.Create(CultureInfo.InvariantCulture, $"{path}[{i}]"), item, e[i])).First(difference => difference is not null),
        _ => $"{path} is {actual?.ToJsonString() ?? "null"}, not {expected?.ToJsonString() ?? "null"}",
    };

    private static IEnumerable<object> Steps(string part)
    {
        var bracket = part.IndexOf('[', StringComparison.Ordinal);
        if (bracket < 0)
        {
            return [part];
        }

        var indexes = part[bracket..].Split(['[', ']'], StringSplitOptions.RemoveEmptyEntries)
            .Select(index => (object)int.Parse(index, CultureInfo.InvariantCulture));
        return bracket == 0 ? indexes : indexes.Prepend(part[..bracket]);
    }
}
