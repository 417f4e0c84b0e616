namespace StagedMargins.Core.Mapping;

/// <summary>Lists that are never changed: another list takes their place.</summary>
internal static class ListChanges
{
    /// <summary>The list with one more item at its end.</summary>
    internal static IReadOnlyList<T> Plus<T>(this IReadOnlyList<T> list, T item) => [.. list, item];

    /// <summary>The list with an item changed.</summary>
    internal static T[] Replace<T>(this IReadOnlyList<T> list, int index, Func<T, T> change)
    {
        T[] changed = [.. list];
        changed[index] = change(changed[index]);
        return changed;
    }
}
