namespace StagedMargins.Web.Backup;

/// <summary>A backup that can't be made, or one that can't be restored as it stands.</summary>
/// <param name="message">What is wrong and what to do, in one line.</param>
public sealed class BackupException(string message) : Exception(message);
