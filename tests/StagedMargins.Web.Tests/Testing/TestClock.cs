using System.Globalization;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>
/// The clock of a whole run, in the tests, the services and the browser: the machine's, or one that begins at the moment which
/// <c>STAGEDMARGINS_TEST_CLOCK</c> names and goes on from there. It only ever shifts the time of day; what waits, waits as long as ever.
/// </summary>
public sealed class TestClock : TimeProvider
{
    /// <summary>The environment variable that sets the clock, for example to <c>2027-02-28T23:45:00Z</c>.</summary>
    public const string Variable = "STAGEDMARGINS_TEST_CLOCK";

    private TestClock()
    {
    }

    /// <summary>The clock.</summary>
    public static TestClock Current { get; } = new();

    /// <summary>How far it is ahead of the machine's, in whole seconds; negative where it is behind.</summary>
    public static TimeSpan Ahead { get; } = Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } moment
        ? TimeSpan.FromSeconds(Math.Round((DateTimeOffset.Parse(moment, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal) - System.GetUtcNow()).TotalSeconds))
        : TimeSpan.Zero;

    /// <summary>True where it is not the machine's clock.</summary>
    public static bool IsSet => Ahead != TimeSpan.Zero;

    /// <summary>Now.</summary>
    public static DateTimeOffset Now => Current.GetUtcNow();

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => System.GetUtcNow() + Ahead;

    /// <summary>Sets the clock of a process that is about to be started, by libfaketime.</summary>
    /// <param name="environment">The environment it is given.</param>
    /// <exception cref="FileNotFoundException">The library is not on the machine (Debian package faketime).</exception>
    public static void SetFor(IDictionary<string, string?> environment)
    {
        if (!IsSet)
        {
            return;
        }

        environment["LD_PRELOAD"] = Library ?? throw new FileNotFoundException($"{Variable} is set, and processes need libfaketime for it (Debian package faketime).");
        environment["FAKETIME"] = Ahead.TotalSeconds.ToString("+0;-0", CultureInfo.InvariantCulture);
        environment["FAKETIME_DONT_FAKE_MONOTONIC"] = "1";
        environment["DONT_FAKE_MONOTONIC"] = "1";
        environment["NO_FAKE_STAT"] = "1";

        // What it would mend is in order where the monotonic clock is left alone; mended all the same, every wait ends too late.
        environment["FAKETIME_FORCE_MONOTONIC_FIX"] = "0";
    }

    private static string? Library => Directory.GetDirectories("/usr/lib", "*-linux-gnu").Select(folder => Path.Combine(folder, "faketime", "libfaketimeMT.so.1")).FirstOrDefault(File.Exists);
}
