using System.Collections.Concurrent;
using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace StagedMargins.Benchmarks.Service;

/// <summary>A program in a process of its own, with a home folder of its own.</summary>
internal static class ProgramProcess
{
    private static readonly ConditionalWeakTable<Process, ConcurrentQueue<string>> Said = [];

    /// <summary>Starts one.</summary>
    /// <param name="arguments">The assembly and its arguments.</param>
    /// <param name="home">The home folder.</param>
    /// <param name="environment">Further variables.</param>
    internal static Process Start(IEnumerable<string> arguments, string home, IReadOnlyDictionary<string, string> environment)
    {
        var start = new ProcessStartInfo("dotnet", arguments) { RedirectStandardOutput = true, WorkingDirectory = home };
        start.Environment["HOME"] = home;
        start.Environment["XDG_DATA_HOME"] = Path.Combine(home, "data");
        foreach (var (name, value) in environment)
        {
            start.Environment[name] = value;
        }

        var process = new Process { StartInfo = start };
        var lines = new ConcurrentQueue<string>();
        Said.Add(process, lines);
        process.OutputDataReceived += (_, line) => lines.Enqueue(line.Data ?? "");
        process.Start();
        process.BeginOutputReadLine();
        return process;
    }

    /// <summary>What a line of its standard output says, once it has said it: the first group of a pattern.</summary>
    internal static async Task<string> SaidAsync(Process process, Regex wanted)
    {
        var lines = Said.GetOrCreateValue(process);
        for (var attempt = 0; attempt < 600; attempt++)
        {
            if (lines.Select(line => wanted.Match(line)).FirstOrDefault(match => match.Success) is { } match)
            {
                return match.Groups[1].Value;
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException("The program did not say what was waited for.");
    }
}
