using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Demo;

/// <summary>The demonstration as it comes up at a first start, loaded once for the tests that change nothing in it.</summary>
public sealed partial class RunningDemo : IAsyncLifetime
{
    private readonly TempFolder home = new();

    /// <summary>The process.</summary>
    public ServiceProcess Process { get; private set; } = null!;

    /// <summary>The password that it printed.</summary>
    public string Password { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        Process = Start(home, password: null);
        await Process.ListeningAsync();
        Password = await PasswordSaidAsync(Process);
    }

    /// <summary>Starts the demonstration in a home folder.</summary>
    /// <param name="home">The folder.</param>
    /// <param name="password">The password asked for by the environment, or null.</param>
    internal static ServiceProcess Start(TempFolder home, string? password) => ServiceProcess.Start(
        home.Path, password is null ? [] : new Dictionary<string, string> { ["STAGEDMARGINS_DEMO_PASSWORD"] = password }, "--demo", "--urls", "http://127.0.0.1:0");

    /// <summary>What a demonstration says of its password. The greeting follows the line that says where the service listens, and ends with how to stop it.</summary>
    internal static async Task<string> PasswordSaidAsync(ServiceProcess demo)
    {
        await demo.SaidAsync(LastLine());
        return await demo.SaidAsync(PasswordLine());
    }

    /// <summary>The commands that a demonstration prints, for someone to try.</summary>
    internal static List<string> CommandLines(ServiceProcess demo) =>
        [.. demo.Output.Split('\n').Select(line => line.Trim()).Where(line => line.Contains("curl ", StringComparison.Ordinal))];

    /// <summary>A home folder with a copy of the loaded record and its keys.</summary>
    internal TempFolder CopyOfHome()
    {
        var copy = new TempFolder();
        var (from, to) = (DataIn(home), DataIn(copy));
        Directory.CreateDirectory(to);
        File.Copy(Path.Combine(from, "history.keys"), Path.Combine(to, "history.keys"));
        using var source = new SqliteConnection($"Data Source={Path.Combine(from, "demo.db")};Mode=ReadOnly;Pooling=False");
        using var target = new SqliteConnection($"Data Source={Path.Combine(to, "demo.db")};Pooling=False");
        source.Open();
        target.Open();
        source.BackupDatabase(target);
        return copy;
    }

    public async ValueTask DisposeAsync()
    {
        await Process.DisposeAsync();
        home.Dispose();
    }

    private static string DataIn(TempFolder home) => Path.Combine(home.Path, "data", "StagedMargins");

    [GeneratedRegex(@"(Ctrl\+C)")]
    private static partial Regex LastLine();

    [GeneratedRegex(@"^Password\s+(\S+)", RegexOptions.Multiline)]
    private static partial Regex PasswordLine();
}

/// <summary>Tests that share the running demonstration.</summary>
[CollectionDefinition]
[RunsFirst]
public sealed class WithDemo : ICollectionFixture<RunningDemo>;
