namespace StagedMargins.Web.Commands;

/// <summary>What the program does when its first word is not a setting: a task on the record instead of the service.</summary>
internal static class CommandLine
{
    private static readonly Dictionary<string, Func<IServiceProvider, TextWriter, Task<int>>> Commands = new()
    {
        ["add-clinic"] = AddClinicCommand.RunAsync,
        ["verify"] = VerifyCommand.RunAsync,
    };

    /// <summary>The task asked for, or null where the service is.</summary>
    /// <exception cref="Hosting.StartFailureException">There is no such task.</exception>
    internal static Func<IServiceProvider, TextWriter, Task<int>>? Find(string[] args)
    {
        if (args is not [var word, ..] || word.StartsWith('-') || word.StartsWith('/') || word.Contains('=', StringComparison.Ordinal))
        {
            return null;
        }

        return Commands.TryGetValue(word, out var command)
            ? command
            : throw new Hosting.StartFailureException($"There is no task '{word}'; there are: {string.Join(", ", Commands.Keys)}. Without one the service starts.");
    }
}
