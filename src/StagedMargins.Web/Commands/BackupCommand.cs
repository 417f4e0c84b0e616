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
            throw new BackupException($"There is a file {target} already, and a backup never replaces one.");
        }

        using var stop = new StopSignals();
        try
        {
            await services.GetRequiredService<RecordBackup>().TakeAsync(target, key, new Progress(output, services.GetRequiredService<TimeProvider>()), stop.Token);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BackupException($"The backup can't be written, and no file was left: {e.Message}");
        }

        await output.WriteLineAsync($"Backup written and read back: {target}");
        await output.WriteLineAsync(key is null
            ? "It is NOT encrypted and holds patient references: keep it as you keep the record, or use --key-file."
            : "It is encrypted. Keep the key file apart from it; without the key it can't be read by anyone.");
        await output.WriteLineAsync("The history keys are not in it. Keep a copy of them in another place: without them no restored record can be used.");
        return 0;
    }
}
