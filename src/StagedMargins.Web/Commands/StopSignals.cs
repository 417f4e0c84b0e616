using System.Runtime.InteropServices;

namespace StagedMargins.Web.Commands;

/// <summary>Lets a task that is told to stop take away what it has half made.</summary>
internal sealed class StopSignals : IDisposable
{
    private readonly CancellationTokenSource source = new();
    private readonly PosixSignalRegistration[] signals;

    internal StopSignals()
    {
        signals = [PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop), PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop)];
    }

    /// <summary>Ends the work.</summary>
    internal CancellationToken Token => source.Token;

    public void Dispose()
    {
        foreach (var signal in signals)
        {
            signal.Dispose();
        }

        source.Dispose();
    }

    private void Stop(PosixSignalContext signal)
    {
        signal.Cancel = true;
        source.Cancel();
    }
}
