using Microsoft.Playwright;

namespace StagedMargins.Browser.Tests.Testing;

/// <summary>Requests of a page that wait on their way until the test lets them go.</summary>
internal sealed class HeldRoute : IAsyncDisposable
{
    private readonly IPage page;
    private readonly string address;
    private readonly TaskCompletionSource arrived = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TaskCompletionSource letGo = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private HeldRoute(IPage page, string address) => (this.page, this.address) = (page, address);

    /// <summary>Holds what a page sends to an address from now on.</summary>
    /// <param name="page">The page.</param>
    /// <param name="address">The address, as a glob.</param>
    internal static async Task<HeldRoute> OfAsync(IPage page, string address)
    {
        var held = new HeldRoute(page, address);
        await page.RouteAsync(address, held.HoldAsync);
        return held;
    }

    /// <summary>Waits until a request has been sent.</summary>
    internal Task ArrivedAsync() => arrived.Task.WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken);

    /// <summary>Lets them go on, and every later one.</summary>
    internal void LetGo() => letGo.TrySetResult();

    public async ValueTask DisposeAsync()
    {
        LetGo();
        await page.UnrouteAsync(address);
    }

    private async Task HoldAsync(IRoute route)
    {
        arrived.TrySetResult();
        await letGo.Task;
        await route.ContinueAsync();
    }
}
