using StagedMargins.Web.Backup;

namespace StagedMargins.Web.Commands;

/// <summary><c>backup --to FILE [--key-file FILE]</c>: writes the whole record, as it stands at one moment, into one file.</summary>
internal static class BackupCommand
{
    /// <summary>Runs it.</summary>
    /// <returns>0; whatever keeps it from writing a whole backup is thrown and leaves no file.</returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        var settings = services.GetRequiredService<IConfiguration>();
        var target = Path.GetFullPath(settings["to"] ?? throw new BackupException("Say where to: backup --to FILE"));
        var key = settings["key-file"] is { } keyFile ? BackupKey.Read(keyFile) : null;
        if (File.Exists(target))
        {
            throw new BackupException($"{target} already exists, and a backup never overwrites a file.");
        }

        using var stop = new StopSignals();
        try
        {
            await services.GetRequiredService<RecordBackup>().TakeAsync(target, key, new Progress(output, services.GetRequiredService<TimeProvider>()), stop.Token);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BackupException($"The backup can't be written. No file was left: {e.Message}");
        }

        await output.WriteLineAsync($"Backup written and read back: {target}");
        await output.WriteLineAsync(key is null
            ? "It is NOT encrypted and holds patient references: protect it as you protect the record, or use --key-file."
            : "It is encrypted. Store the key file elsewhere; nobody can read the backup without it.");
        await output.WriteLineAsync("The history keys are not included. Keep a copy of them elsewhere: a restored record can't be used without them.");
        return 0;
    }
}
