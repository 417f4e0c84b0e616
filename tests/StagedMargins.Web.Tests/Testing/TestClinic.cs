using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>A clinic in a running service, with people of every role who have really signed in.</summary>
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

    private readonly Dictionary<string, Caller> callers = [];
    private string? halfReadCase;

    /// <summary>The engine under it.</summary>
    public Engine Engine => engine;

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
    public Caller Of(string role) => role switch
    {
        "surgeon" => Surgeon,
        "histotech" => Histotech,
        "manager" => Manager,
        "administrator" => Administrator,
        _ => throw new ArgumentException("Not a role.", nameof(role)),
    };

    public async ValueTask InitializeAsync()
    {
        Database = await TestDatabase.FreshAsync(engine, server);
        Host = ServiceHost.Start(
            Database,
            clock: null,
            ("FirstAdministrator:Email", AdministratorEmail),
            ("FirstAdministrator:Password", Password),
            ("FirstAdministrator:Clinic", "Clinic of the tests"));
        Stranger = Host.Stranger();
        callers[AdministratorEmail] = await Stranger.SignInAsync(AdministratorEmail, Password);
        (await Administrator.PostAsync("/api/clinic", new JsonObject { ["timeZone"] = TimeZone })).Expect(200);
        await AddAsync(SurgeonEmail, "surgeon");
        await AddAsync(OtherSurgeonEmail, "surgeon");
        await AddAsync(HistotechEmail, "histotech");
        await AddAsync(OtherHistotechEmail, "histotech");
        await AddAsync(ManagerEmail, "manager");
    }

    /// <summary>Adds a person as the administrator does, and signs them in.</summary>
    public async Task<Caller> AddAsync(string email, string role)
    {
        (await Administrator.PostAsync("/api/people", Some.Person(email, Password, role))).Expect(201);
        return callers[email] = await Stranger.SignInAsync(email, Password);
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
        await Database.DisposeAsync();
        GC.SuppressFinalize(this);
    }
}

/// <summary>The clinic on a SQLite file.</summary>
public sealed class SqliteClinic(PostgresServer server) : TestClinic(Engine.Sqlite, server);

/// <summary>The clinic on PostgreSQL.</summary>
public sealed class PostgresClinic(PostgresServer server) : TestClinic(Engine.Postgres, server);

/// <summary>Tests that share the clinic on SQLite, one after another.</summary>
[CollectionDefinition]
public sealed class OnSqlite : ICollectionFixture<SqliteClinic>;

/// <summary>Tests that share the clinic on PostgreSQL, one after another.</summary>
[CollectionDefinition]
public sealed class OnPostgres : ICollectionFixture<PostgresClinic>;
