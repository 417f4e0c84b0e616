using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Storage;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>
/// The real program in this process, on a real port. What its database layer merely warns of is an error here, so that a query
/// which would run in part outside the database, or without an order it needs, fails the test that reaches it.
/// </summary>
public sealed class ServiceHost : WebApplicationFactory<Program>
{
    private readonly IReadOnlyDictionary<string, string> settings;
    private readonly TimeProvider? clock;
    private readonly ConsoleCapture console = new();

    private ServiceHost(IReadOnlyDictionary<string, string> settings, TimeProvider? clock)
    {
        (this.settings, this.clock) = (settings, clock);
        UseKestrel(0);
    }

    /// <summary>Where it listens.</summary>
    public Uri Address => new(Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());

    /// <summary>What the program said on the console until it listened.</summary>
    public string Said => console.Output;

    /// <summary>Starts the program on a database.</summary>
    /// <param name="database">The database.</param>
    /// <param name="clock">Its clock, where it is not that of the run.</param>
    /// <param name="more">Further settings.</param>
    public static ServiceHost Start(TestDatabase database, TimeProvider? clock = null, params (string Key, string Value)[] more) =>
        Start(database.Settings.Concat(more.ToDictionary(pair => pair.Key, pair => pair.Value)).ToDictionary(), clock);

    /// <summary>Starts the program with settings.</summary>
    public static ServiceHost Start(IReadOnlyDictionary<string, string> settings, TimeProvider? clock = null)
    {
        var host = new ServiceHost(settings, clock);
        host.console.During(() =>
        {
            host.StartServer();
            return host;
        });
        return host;
    }

    /// <summary>Someone who has not signed in.</summary>
    public Caller Stranger() => new(
        new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = Address },
        token: null);

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        // A test reads answers; only a fault of the program belongs in the output of a run.
        builder.UseSetting("Serilog:MinimumLevel:Default", "Error");
        foreach (var (key, value) in settings)
        {
            builder.UseSetting(key, value);
        }

        builder.ConfigureTestServices(services =>
        {
            services.ConfigureDbContext<ClinicContext>(options => options.ConfigureWarnings(warnings => warnings.Default(WarningBehavior.Throw)));
            services.AddSingleton(clock ?? TestClock.Current);

            // A password costs as much as it should in a process of its own, where a test looks at the cost; here it would be most of a run.
            services.Configure<PasswordHasherOptions>(options => options.IterationCount = 1_000);
        });
    }
}
