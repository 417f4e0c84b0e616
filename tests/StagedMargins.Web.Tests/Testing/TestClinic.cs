using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>A clinic in a running service of its own, with people of every role who have really signed in: a copy of one made once in a run.</summary>
public abstract class TestClinic(Engine engine, PostgresServer server) : IAsyncLifetime
{
    /// <summary>The password of everyone in the clinic.</summary>
    public const string Password = "a long enough pass phrase";

    public const string SurgeonEmail = "m.ashgrove@clinic.invalid";
    public const string OtherSurgeonEmail = "r.tidewell@clinic.invalid";
    public const string HistotechEmail = "l.hollowmere@clinic.invalid";
    public const string OtherHistotechEmail = "p.wickstone@clinic.invalid";
    public const string ManagerEmail = "s.brambleby@clinic.invalid";
    public const string AdministratorEmail = "a.quillon@clinic.invalid";

    /// <summary>The clinic's time zone, which is not the server's: UTC−4 in winter and UTC−3 in summer.</summary>
    public const string TimeZone = "America/Halifax";

    /// <summary>Everyone but the administrator, with their role.</summary>
    internal static readonly (string Email, string Role)[] People =
    [
        (SurgeonEmail, "surgeon"), (OtherSurgeonEmail, "surgeon"), (HistotechEmail, "histotech"), (OtherHistotechEmail, "histotech"), (ManagerEmail, "manager"),
    ];

    private readonly Dictionary<string, Caller> callers = [];
    private string? halfReadCase;

    /// <summary>The engine under it.</summary>
    public Engine Engine => engine;

    /// <summary>Where further databases of PostgreSQL are made.</summary>
    public PostgresServer Server => server;

    /// <summary>Its database.</summary>
    public TestDatabase Database { get; private set; } = null!;

    /// <summary>The running service.</summary>
    public ServiceHost Host { get; private set; } = null!;

    public Caller Surgeon => callers[SurgeonEmail];

    public Caller OtherSurgeon => callers[OtherSurgeonEmail];

    public Caller Histotech => callers[HistotechEmail];

    public Caller Manager => callers[ManagerEmail];

    public Caller Administrator => callers[AdministratorEmail];

    /// <summary>Someone who has not signed in.</summary>
    public Caller Stranger { get; private set; } = null!;

    /// <summary>Someone of a role.</summary>
    public Caller WithRole(string role) => role switch
    {
        "surgeon" => Surgeon,
        "histotech" => Histotech,
        "manager" => Manager,
        "administrator" => Administrator,
        _ => throw new ArgumentException("Not a role.", nameof(role)),
    };

    public async ValueTask InitializeAsync()
    {
        var template = await server.Templates.ClinicAsync(engine);
        Database = await template.Database.CopyAsync(server);
        Host = ServiceHost.Start(Database);
        Stranger = Host.Stranger();
        foreach (var (email, token) in template.Tokens)
        {
            callers[email] = Stranger.With(token);
        }
    }

    /// <summary>Adds a person as the administrator does, who sets a password and signs in.</summary>
    public async Task<Caller> AddAsync(string email, string role) => callers[email] = await AddAsync(Administrator, Stranger, email, role);

    /// <summary>Makes a clinic with a one-time code, as whoever runs the service does, and signs its administrator in.</summary>
    public static async Task<Caller> FoundAsync(ServiceHost host, string email, string clinic)
    {
        await using var scope = host.Services.CreateAsyncScope();
        var code = await FirstStart.NewCodeAsync(scope.ServiceProvider);
        var stranger = host.Stranger();
        (await stranger.PostAsync("/api/auth/first-administrator", Some.FirstAdministrator(code, email, clinic))).Expect(201);
        return await stranger.SignInAsync(email, Password);
    }

    /// <summary>Adds a person as an administrator does, who sets a password and signs in.</summary>
    public static async Task<Caller> AddAsync(Caller administrator, Caller stranger, string email, params string[] roles)
    {
        var added = (await administrator.PostAsync("/api/people", Some.Person(email, roles))).Expect(201);
        await stranger.SetPasswordAsync(email, added.Text("code"));
        return await stranger.SignInAsync(email, Password);
    }

    /// <summary>
    /// What accounts, credentials, settings, tokens, closed months and openings of any clinic have that their entries do not, whatever the
    /// tests did over HTTP.
    /// </summary>
    private async Task<IReadOnlyList<LedgerFault>> FaultsAsync()
    {
        var keys = LedgerKeys.Parse(Database.Settings["History:Keys"]);
        var check = new LedgerCheck(keys, new CredentialPrints(keys));
        await using var all = Database.NewContext();
        var faults = new List<LedgerFault>();
        foreach (var clinicId in await all.Clinics.Select(clinic => clinic.Id).ToListAsync())
        {
            await using var db = Database.NewContext(clinicId);
            faults.AddRange(await check.FaultsOfClinicAsync(db, clinicId, CancellationToken.None));
        }

        return faults;
    }

    /// <summary>A case for tests that change nothing: stage 1 recorded, of its blocks A and B only A read.</summary>
    public async Task<string> HalfReadCaseAsync()
    {
        if (halfReadCase is null)
        {
            halfReadCase = await Surgeon.OpenWithLayerAsync();
            (await Surgeon.ReadAsync(halfReadCase, 1, "A", Some.Clear())).Expect(201);
        }

        return halfReadCase;
    }

    public async ValueTask DisposeAsync()
    {
        await Host.DisposeAsync();
        var faults = await FaultsAsync();
        await Database.DisposeAsync();
        faults.ShouldBeEmpty();
        GC.SuppressFinalize(this);
    }
}

/// <summary>The clinic on a SQLite file.</summary>
public sealed class SqliteClinic(PostgresServer server) : TestClinic(Engine.Sqlite, server);

/// <summary>The clinic on PostgreSQL.</summary>
public sealed class PostgresClinic(PostgresServer server) : TestClinic(Engine.Postgres, server);

/// <summary>Tests that share the clinic on SQLite, one after another.</summary>
[CollectionDefinition]
[RunsFirst]
public sealed class OnSqlite : ICollectionFixture<SqliteClinic>;

/// <summary>Tests that share the clinic on PostgreSQL, one after another.</summary>
[CollectionDefinition]
[RunsFirst]
public sealed class OnPostgres : ICollectionFixture<PostgresClinic>;
