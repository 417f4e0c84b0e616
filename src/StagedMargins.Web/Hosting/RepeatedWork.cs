namespace StagedMargins.Web.Hosting;

/// <summary>Work that is done again and again while the service runs. It says itself what goes wrong; what it throws stops the service.</summary>
/// <param name="interval">The time from one to the next, by the machine's clock, whatever the program's clock says.</param>
/// <param name="isAtOnce">True where the first is not waited for.</param>
public abstract class RepeatedWork(TimeSpan interval, bool isAtOnce = false) : BackgroundService
{
    /// <summary>Does it once.</summary>
    protected abstract Task DoAsync(CancellationToken cancel);

    /// <inheritdoc/>
    protected sealed override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(interval);
        try
        {
            if (isAtOnce)
            {
                await DoAsync(stoppingToken);
            }

            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                await DoAsync(stoppingToken);
            }
        }
        catch (OperationCanceledException)
        {
            // The service ends; what is left is done when it runs again.
        }
    }
}
