using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.Patients;
using StagedMargins.Storage.People;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// Where the keys that seal histories come from: the setting <c>History:Keys</c>, else the file <c>History:KeyFile</c>, else a file
/// in the user's data folder, made at the first start for its owner alone.
/// </summary>
public static class HistoryKeyFile
{
    /// <summary>Adds the keys.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="mayMake">True where a key file that is missing is made; a task on a record that is there would only hide that its keys are not.</param>
    public static void AddHistoryKeys(this IServiceCollection services, IConfiguration settings, bool mayMake)
    {
        services.AddSingleton(_ => Keys(settings, mayMake));
        services.AddSingleton<SubjectKeys>();
        services.AddSingleton<LedgerWriter>();
        services.AddSingleton<PatientDesk>();
        services.AddSingleton<LedgerCheck>();
        services.AddSingleton<CredentialPrints>();
        services.AddSingleton<RequestPrints>();
        services.AddSingleton<ChangeEntries>();
        services.AddScoped<HistoryCheck>();
        services.AddHostedService<AnchorWriter>();
        services.AddSingleton<NightlyCheck>();
        services.AddHostedService(provider => provider.GetRequiredService<NightlyCheck>());
    }

    /// <summary>Refuses to go on with a record that was sealed by keys that are not at hand, or with wrong ones; keeps the checks of new keys.</summary>
    /// <exception cref="StartFailureException">A key is missing, or another under its name.</exception>
    public static async Task GuardAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        var keys = scope.ServiceProvider.GetRequiredService<LedgerKeys>();
        await GuardAsync(db, keys);
        await db.KeepAsync(keys, CancellationToken.None);
    }

    /// <summary>The same for a task, which keeps nothing.</summary>
    /// <exception cref="StartFailureException">A key is missing, or another under its name.</exception>
    internal static async Task GuardAsync(ClinicContext db, LedgerKeys keys)
    {
        await Database.GuardLevelAsync(db, CancellationToken.None);
        var used = await db.Ledger.IgnoreQueryFilters().OrderByDescending(row => row.At.Utc).Select(row => row.KeyId).Take(1).ToListAsync();
        if (used.Except(keys.Ids).FirstOrDefault() is { } missing)
        {
            throw new StartFailureException($"This record was sealed with the key '{missing}', which is not among the history keys. Restore the key file, or set History:KeyFile.");
        }

        if (await db.WrongKeysAsync(keys, CancellationToken.None) is [var wrong, ..])
        {
            throw new StartFailureException($"The history key '{wrong}' is not the one that this record was sealed with, though it has its name. Restore the key file, or set History:KeyFile.");
        }
    }

    private static LedgerKeys Keys(IConfiguration settings, bool mayMake)
    {
        try
        {
            return LedgerKeys.Parse(settings["History:Keys"] is { Length: > 0 } given
                ? given
                : Read(settings["History:KeyFile"] ?? Path.Combine(DataFolder.Path(), "history.keys"), mayMake));
        }
        catch (FormatException e)
        {
            throw new StartFailureException($"The history keys can't be read: {e.Message}");
        }
    }

    private static string Read(string path, bool mayMake)
    {
        if (!File.Exists(path))
        {
            if (!mayMake)
            {
                throw new StartFailureException($"There are no history keys at {path}. Restore the key file, or set History:KeyFile.");
            }

            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(path))!);
            var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
            if (!OperatingSystem.IsWindows())
            {
                options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            }

            using var writer = new StreamWriter(path, options);
            writer.WriteLine("# Keys that seal the histories of cases. Keep a copy apart from the database; without it no history can be checked.");
            writer.WriteLine("# To renew: add a line NAME:BASE64 of 32 random bytes at the end; never remove a line.");
            writer.WriteLine(LedgerKeys.NewLine(string.Create(CultureInfo.InvariantCulture, $"k{Random.Shared.Next(0x1000, 0xffff):x4}")));
        }

        return File.ReadAllText(path);
    }
}
