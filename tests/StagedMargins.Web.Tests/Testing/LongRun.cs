using System.Globalization;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Tests that repeat something by chance have a short version for every run and a long one for a night.</summary>
public static class LongRun
{
    /// <summary>The environment variable that asks for the long version, set to 1.</summary>
    public const string Variable = "STAGEDMARGINS_LONG";

    /// <summary>The environment variable that repeats a run by its seed.</summary>
    public const string SeedVariable = "STAGEDMARGINS_SEED";

    /// <summary>True in the long version.</summary>
    public static bool IsOn => Environment.GetEnvironmentVariable(Variable) == "1";

    /// <summary>How often, in the short version and in the long one.</summary>
    public static int Times(int inShort, int inLong) => IsOn ? inLong : inShort;

    /// <summary>A seed, printed so that the run can be repeated.</summary>
    public static int Seed()
    {
        var seed = int.TryParse(Environment.GetEnvironmentVariable(SeedVariable), CultureInfo.InvariantCulture, out var given) ? given : Random.Shared.Next();
        Say($"Seed {seed}; to repeat: {SeedVariable}={seed}");
        return seed;
    }

    /// <summary>Puts a figure of a run where whoever runs it sees it: in the test's output and on the console.</summary>
    public static void Say(FormattableString line)
    {
        var text = FormattableString.Invariant(line);
        TestContext.Current.TestOutputHelper?.WriteLine(text);
        if (IsOn)
        {
            Console.WriteLine(text);
        }
    }
}
