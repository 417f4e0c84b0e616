namespace StagedMargins.Storage.History;

/// <summary>Changes of one case that are sealed one after the other and saved together.</summary>
public sealed class UnsavedChanges
{
    private readonly HashSet<object> rows = new(ReferenceEqualityComparer.Instance);

    /// <summary>The seal of the last of them; null before the first.</summary>
    internal string? LastHash { get; set; }

    /// <summary>Takes a row as one of the change at hand; false where an earlier change wrote it.</summary>
    internal bool Add(object row) => rows.Add(row);
}
