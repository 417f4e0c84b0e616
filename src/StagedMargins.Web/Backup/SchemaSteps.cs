namespace StagedMargins.Web.Backup;

/// <summary>
/// The changes that the tables have seen. Each has the same name for both databases and there an id of its own, which begins with
/// the time when it was made.
/// </summary>
internal static class SchemaSteps
{
    /// <summary>The names of changes.</summary>
    /// <param name="ids">Their ids in one of the databases.</param>
    internal static IReadOnlyList<string> Names(IEnumerable<string> ids) => [.. ids.Select(id => id[(id.IndexOf('_', StringComparison.Ordinal) + 1)..])];

    /// <summary>The id of the last change that a backup had seen.</summary>
    /// <param name="ids">The changes known here, in order.</param>
    /// <param name="seen">The names of those that the backup had seen.</param>
    /// <exception cref="BackupException">It had seen others.</exception>
    internal static string LastSeen(IReadOnlyList<string> ids, IReadOnlyList<string> seen) =>
        seen.Count > 0 && Names(ids).Take(seen.Count).SequenceEqual(seen)
            ? ids[seen.Count - 1]
            : throw new BackupException("The tables of this backup are not those of any version that this program can bring up to date: it was made by a newer version, or before the record was a ledger. Restore it with the version that made it.");
}
