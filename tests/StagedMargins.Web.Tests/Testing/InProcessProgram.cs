using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Web.Tests.Testing;

[assembly: HostingStartup(typeof(TestClockStartup))]

namespace StagedMargins.Web.Tests.Testing;

/// <summary>How a run of the program ended.</summary>
/// <param name="Code">Its exit code.</param>
/// <param name="Output">What it wrote to standard output.</param>
/// <param name="Errors">What it wrote to standard error.</param>
public sealed record ProgramResult(int Code, string Output, string Errors);

/// <summary>
/// The program from its first line to its exit code, run in this process: for tests of what a task or a start that fails does and
/// says. Only tests of processes, which kill one or end one, start one.
/// </summary>
internal static class InProcessProgram
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    static InProcessProgram()
    {
        // It finds its pages' files by its own name, which the framework would take from the process.
        Environment.SetEnvironmentVariable("ASPNETCORE_APPLICATIONNAME", typeof(Program).Assembly.GetName().Name);
        if (TestClock.IsSet)
        {
            Environment.SetEnvironmentVariable("ASPNETCORE_HOSTINGSTARTUPASSEMBLIES", typeof(TestClockStartup).Assembly.GetName().Name);
        }
    }

    /// <summary>Runs it to its end.</summary>
    /// <param name="arguments">Its arguments; they must say where the record and the history keys are, lest it use those of whoever runs the tests.</param>
    internal static async Task<ProgramResult> RunAsync(params IEnumerable<string> arguments)
    {
        var capture = new ConsoleCapture();
        var main = typeof(Program).Assembly.EntryPoint!.CreateDelegate<Func<string[], int>>();
        string[] given = [.. arguments];
        var code = await Task.Run(() => capture.During(() => main(given))).WaitAsync(Patience, TestContext.Current.CancellationToken);
        return new ProgramResult(code, capture.Output, capture.Errors);
    }
}

/// <summary>Gives the program the clock of the run.</summary>
internal sealed class TestClockStartup : IHostingStartup
{
    public void Configure(IWebHostBuilder builder) => builder.ConfigureServices(services => services.AddSingleton<TimeProvider>(TestClock.Current));
}
