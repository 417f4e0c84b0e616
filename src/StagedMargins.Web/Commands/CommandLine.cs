namespace StagedMargins.Web.Commands;

/// <summary>What the program does when its first word is not a setting: a task on the record instead of the service.</summary>
internal static class CommandLine
{
    private static readonly Dictionary<string, Func<IServiceProvider, TextWriter, Task<int>>> Commands = new()
    {
        ["add-clinic"] = AddClinicCommand.RunAsync,
        ["backup"] = BackupCommand.RunAsync,
        ["rebuild"] = RebuildCommand.RunAsync,
        ["restore"] = RestoreCommand.RunAsync,
        ["tables"] = TablesCommand.RunAsync,
        ["verify"] = VerifyCommand.RunAsync,
    };

    // A misspelt option must not vanish: a backup with --keyfile would not be encrypted.
    private static readonly Dictionary<string, string[]> Options = new()
    {
        ["backup"] = ["to", "key-file"],
        ["restore"] = ["from", "key-file"],
        ["verify"] = ["expect", "anchors"],
    };

    /// <summary>True where a task is asked for instead of the service.</summary>
    internal static bool IsTask(string[] args) =>
        args is [var word, ..] && !word.StartsWith('-') && !word.StartsWith('/') && !word.Contains('=', StringComparison.Ordinal);

    /// <summary>The task asked for, or null where the service is.</summary>
    /// <exception cref="Hosting.StartFailureException">There is no such task.</exception>
    internal static Func<IServiceProvider, TextWriter, Task<int>>? Find(string[] args)
    {
        if (!IsTask(args))
        {
            return null;
        }

        var word = args[0];

        if (Options.TryGetValue(word, out var options))
        {
            GuardOptions(word, options, args[1..]);
        }

        return Commands.TryGetValue(word, out var command)
            ? command
            : throw new Hosting.StartFailureException($"There is no task '{word}'. Tasks: {string.Join(", ", Commands.Keys)}. Without a task the service starts.");
    }

    // What has a colon is a setting; anything else is an option of the task, given once and with its value.
    private static void GuardOptions(string task, string[] options, string[] args)
    {
        var given = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        for (var i = 0; i < args.Length; i++)
        {
            var (name, value) = args[i].Split('=', 2) is [var left, var right] ? (left, right) : (args[i], null);
            if (name == "--demo")
            {
                continue;
            }

            var isSetting = name.Contains(':', StringComparison.Ordinal);
            value ??= i + 1 < args.Length ? args[++i] : "";
            if (!isSetting && !(name.StartsWith("--", StringComparison.Ordinal) && options.Contains(name[2..]) && given.Add(name) && value.Length > 0 && value[0] != '-'))
            {
                throw new Hosting.StartFailureException($"'{name}' is not an option here: {task} takes {string.Join(" and ", options.Select(option => $"--{option} {(option == "expect" ? "HEAD" : "FILE")}"))}, each at most once.");
            }
        }
    }
}
