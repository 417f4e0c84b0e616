using System.Collections;
using System.Collections.Concurrent;
using System.Reflection;
using System.Text.Json;

namespace StagedMargins.Core.Entries;

/// <summary>Finds the words in a body with the path of the field in which each stands.</summary>
internal static class WordsFields
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<PropertyInfo>> Known = [];

    /// <summary>Every words of a body.</summary>
    internal static IEnumerable<(string Field, Words Words)> In(object body) => In(body, "");

    private static IEnumerable<(string Field, Words Words)> In(object holder, string path)
    {
        foreach (var property in Known.GetOrAdd(holder.GetType(), Find))
        {
            var name = path + JsonNamingPolicy.CamelCase.ConvertName(property.Name);
            foreach (var found in OfValue(property.GetValue(holder), name))
            {
                yield return found;
            }
        }
    }

    private static IEnumerable<(string Field, Words Words)> OfValue(object? value, string name) => value switch
    {
        null => [],
        Words words => [(name, words)],
        IEnumerable many => many.Cast<object>().SelectMany(one => OfValue(one, name)),
        var part => In(part, $"{name}."),
    };

    // Properties that are words, or hold some somewhere below.
    private static IReadOnlyList<PropertyInfo> Find(Type type) => [.. type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(property => MayHold(property.PropertyType, []))];

    private static bool MayHold(Type type, HashSet<Type> seen)
    {
        if (type == typeof(Words))
        {
            return true;
        }

        if (type.IsGenericType && type.IsAssignableTo(typeof(IEnumerable)))
        {
            return type.GetGenericArguments().Any(argument => MayHold(argument, seen));
        }

        return type.Namespace?.StartsWith("StagedMargins", StringComparison.Ordinal) == true && type.IsClass && seen.Add(type)
            && type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Any(property => MayHold(property.PropertyType, seen));
    }
}
