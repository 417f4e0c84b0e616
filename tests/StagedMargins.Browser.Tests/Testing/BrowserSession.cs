using Microsoft.Playwright;
using StagedMargins.Web.Tests.Testing;
using Xunit.Sdk;

namespace StagedMargins.Browser.Tests.Testing;

/// <summary>A clinic's service with a real browser in front of it.</summary>
public sealed class BrowserSession(PostgresServer server) : IAsyncLifetime
{
    private readonly TestClinic clinic = new SqliteClinic(server);
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;
    private ITest? test;

    /// <summary>The clinic, for what is prepared over HTTP.</summary>
    public TestClinic Clinic => clinic;

    public async ValueTask InitializeAsync()
    {
        await clinic.InitializeAsync();
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Environment.GetEnvironmentVariable("STAGEDMARGINS_TEST_CHROMIUM") ?? "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"],
        });
    }

    /// <summary>A page of a browser of its own, signed in as someone, or as nobody; on the clinic's service or on another one.</summary>
    public async Task<IPage> SignInAsync(string? email, int width = 1024, int height = 768, ColorScheme scheme = ColorScheme.Light, Uri? at = null, string? zone = null)
    {
        await CloseEarlierAsync();
        var context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = (at ?? clinic.Host.Address).ToString(),
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = scheme,
            TimezoneId = zone,
        });
        if (TestClock.IsSet)
        {
            await context.Clock.InstallAsync(new ClockInstallOptions { TimeDate = TestClock.Now.UtcDateTime });
        }

        context.SetDefaultTimeout(20_000);
        var page = await context.NewPageAsync();
        if (email is not null)
        {
            // As the page does it; that the page does so is a test of its own.
            var answer = await context.APIRequest.PostAsync("/api/auth/login?pages=true", new() { DataObject = new { email, password = TestClinic.Password } });
            answer.Status.ShouldBe(204, await answer.TextAsync());
        }

        return page;
    }

    // What an earlier test left open would go on listening, and read itself again at each change that a later one makes.
    private async Task CloseEarlierAsync()
    {
        if (test != TestContext.Current.Test)
        {
            test = TestContext.Current.Test;
            foreach (var context in browser.Contexts.ToList())
            {
                await context.CloseAsync();
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
        await clinic.DisposeAsync();
    }
}

/// <summary>Tests that share one session, one after another.</summary>
[CollectionDefinition]
public sealed class SharedBrowser : ICollectionFixture<BrowserSession>;
