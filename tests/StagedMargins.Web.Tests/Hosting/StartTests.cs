using System.Buffers.Binary;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>Starting and stopping the program as it is started in a clinic.</summary>
[RunsFirst]
public sealed partial class StartTests(PostgresServer server) : IDisposable
{
    private static readonly Dictionary<string, string> Nothing = [];

    private readonly TempFolder home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_port_in_use_stops_the_start_with_one_line()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port.ToString(CultureInfo.InvariantCulture);
        await FailsAsync(["in use", port, "--urls"], Nothing, "--urls", $"http://127.0.0.1:{port}");
    }

    [Fact]
    public async Task A_file_in_the_place_of_the_data_folder_stops_the_start_with_one_line()
    {
        await File.WriteAllTextAsync(Path.Combine(home.Path, "data"), "", TestContext.Current.CancellationToken);
        await FailsAsync(["data folder"], Nothing, "--urls", "http://127.0.0.1:0");
    }

    [Fact]
    public async Task A_file_that_is_no_database_stops_the_start_with_one_line()
    {
        var file = Path.Combine(home.Path, "letter.db");
        await File.WriteAllTextAsync(file, new string('x', 5000), TestContext.Current.CancellationToken);
        await RefusesAsync(["SQLite", "ConnectionStrings:Default"], ("ConnectionStrings:Default", $"Data Source={file}"));
    }

    [Theory]
    [InlineData("Oracle", "Data Source=x", "Database:Provider")]
    [InlineData("Postgres", "", "ConnectionStrings:Default")]
    [InlineData("Postgres", "nonsense", "ConnectionStrings:Default")]
    [InlineData("Postgres", "Host=localhost;Bogus=1", "ConnectionStrings:Default")]
    [InlineData("Postgres", "Host=localhost;Port=many", "ConnectionStrings:Default")]
    [InlineData("Sqlite", "nonsense", "ConnectionStrings:Default")]
    [InlineData("Sqlite", "Data Source=:memory:", "ConnectionStrings:Default")]
    [InlineData("Sqlite", "Bogus=1", "ConnectionStrings:Default")]
    public async Task A_wrong_setting_stops_the_start_with_one_line_that_names_it(string provider, string connection, string named) =>
        await RefusesAsync([named], ("Database:Provider", provider), ("ConnectionStrings:Default", connection));

    [Theory]
    [InlineData("nonsense")]
    [InlineData("http://127.0.0.1:99999")]
    [InlineData("ftp://127.0.0.1:0")]
    public async Task A_wrong_address_stops_the_start_with_one_line(string urls) => await RefusesAsync(["--urls"], ("urls", urls));

    [Theory]
    [InlineData("nowhere", null, "does not exist")]
    [InlineData("letter.txt", null, "Backup:Folder")]
    [InlineData(null, "backup.key", "Backup:Folder is not")]
    [InlineData(".", "backup.key", "There is no key file")]
    [InlineData(".", "letter.txt", "Backup:KeyFile")]
    public async Task A_place_for_backups_that_can_t_be_used_stops_the_start_with_one_line(string? folder, string? keyFile, string says)
    {
        await File.WriteAllTextAsync(Path.Combine(home.Path, "letter.txt"), "No key.", TestContext.Current.CancellationToken);
        await RefusesAsync(
            ["StagedMargins can't start", says],
            ("Backup:Folder", folder is null ? "" : Path.Combine(home.Path, folder)),
            ("Backup:KeyFile", keyFile is null ? "" : Path.Combine(home.Path, keyFile)));
        Directory.GetFiles(home.Path).Select(Path.GetFileName).ShouldBe(["letter.txt"]);
    }

    [Fact]
    public async Task A_PostgreSQL_that_is_not_there_stops_the_start_with_one_line()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;
        listener.Stop();
        var connection = string.Create(CultureInfo.InvariantCulture, $"Host=127.0.0.1;Port={port};Username=clinic;Password=a secret of the tests;Database=record");
        var line = await RefusesAsync(["PostgreSQL", "ConnectionStrings:Default"], ("Database:Provider", "Postgres"), ("ConnectionStrings:Default", connection));
        line.ShouldNotContain("a secret of the tests");
    }

    [Fact]
    public async Task A_PostgreSQL_that_does_not_know_the_account_stops_the_start_with_one_line()
    {
        var connection = $"{await server.ConnectionToAsync($"margins_{Guid.NewGuid():N}")};Username=nobody_{Guid.NewGuid():N}";
        await RefusesAsync(["PostgreSQL"], ("Database:Provider", "Postgres"), ("ConnectionStrings:Default", connection));
    }

    [Fact]
    public async Task Each_start_without_anyone_says_a_new_code_and_the_earlier_one_makes_nobody()
    {
        string earlier;
        await using (var first = ServiceProcess.Start(home.Path, Nothing, "--urls", "http://127.0.0.1:0"))
        {
            earlier = await first.SaidAsync(CodeLine());
        }

        await using var second = ServiceProcess.Start(home.Path, Nothing, "--urls", "http://127.0.0.1:0");
        var stranger = await second.StrangerAsync();
        (await stranger.PostAsync("/api/auth/first-administrator", Some.FirstAdministrator(earlier, "a@clinic.invalid", "Clinic of the tests"))).Status.ShouldBeInRange(400, 499);
        await second.FoundAsync("a@clinic.invalid");
        (await stranger.PostAsync("/api/auth/first-administrator", Some.FirstAdministrator(await second.SaidAsync(CodeLine()), "b@clinic.invalid", "Another"))).Status.ShouldBeInRange(400, 499);
    }

    [Fact]
    public async Task A_word_that_is_no_task_stops_the_start_with_one_line() => await FailsAsync(["serve"], Nothing, "serve");

    [Fact]
    public async Task A_service_asked_to_end_ends_well_and_starts_again_on_its_record()
    {
        await using (var first = ServiceProcess.Start(home.Path, Nothing, "--urls", "http://127.0.0.1:0"))
        {
            await first.FoundAsync("a@clinic.invalid");
            await first.TerminateAsync();
            (await first.ExitCodeAsync()).ShouldBe(0, first.Errors);
            first.Errors.ShouldBe("");
        }

        await PasswordsCostEnoughAsync(Path.Combine(home.Path, "data", "StagedMargins", "record.db"));

        await using var second = ServiceProcess.Start(home.Path, Nothing, "--urls", "http://127.0.0.1:0");
        await (await second.StrangerAsync()).SignInAsync("a@clinic.invalid", TestClinic.Password);
        second.Output.ShouldNotContain("One-time code");
    }

    // Format 3 of the framework: a byte 1, the function (2 is HMAC-SHA512), then the number of rounds, each four bytes.
    private static async Task PasswordsCostEnoughAsync(string record)
    {
        await using var connection = new SqliteConnection($"Data Source={record};Mode=ReadOnly;Pooling=False");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using var command = connection.CreateCommand();
        command.CommandText = "SELECT password_hash FROM \"AspNetUsers\"";
        var hash = Convert.FromBase64String((string)(await command.ExecuteScalarAsync(TestContext.Current.CancellationToken))!);
        hash[0].ShouldBe((byte)1);
        BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(1)).ShouldBe(2u);
        BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(5)).ShouldBeGreaterThanOrEqualTo(100_000u);
    }

    [Theory]
    [InlineData(Engine.Sqlite)]
    [InlineData(Engine.Postgres)]
    public async Task Two_first_starts_at_once_both_come_up(Engine engine)
    {
        await using var database = await TestDatabase.EmptyAsync(engine, server);
        var settings = database.Environment();
        settings.Remove("History__Keys").ShouldBeTrue();
        await using var first = ServiceProcess.Start(home.Path, settings, "--urls", "http://127.0.0.1:0");
        await using var second = ServiceProcess.Start(home.Path, settings, "--urls", "http://127.0.0.1:0");
        (await (await first.StrangerAsync()).GetAsync("/health/ready")).Expect(200);
        (await (await second.StrangerAsync()).GetAsync("/health/ready")).Expect(200);
        (await database.QueryAsync<long>("SELECT count(*) FROM \"AspNetRoles\"")).ShouldBe([4]);
    }

    [GeneratedRegex(@"One-time code for the first administrator: (\S+)")]
    private static partial Regex CodeLine();

    private async Task<string> FailsAsync(string[] says, Dictionary<string, string> settings, params string[] arguments)
    {
        await using var process = ServiceProcess.Start(home.Path, settings, arguments);
        (await process.ExitCodeAsync()).ShouldNotBe(0);
        return OneLine(says, process.Output, process.Errors);
    }

    // The same in this process, for what fails after the program has read its settings.
    private async Task<string> RefusesAsync(string[] says, params (string Name, string Value)[] settings)
    {
        await using var program = new Installation(new Dictionary<string, string> { ["ConnectionStrings:Default"] = $"Data Source={Path.Combine(home.Path, "data", "record.db")}" });
        var result = await program.FailToStartAsync([.. settings.Select(setting => $"--{setting.Name}={setting.Value}")]);
        result.Code.ShouldNotBe(0);
        return OneLine(says, result.Output, result.Errors);
    }

    private static string OneLine(string[] says, string output, string errors)
    {
        var line = errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).ShouldHaveSingleItem();
        says.ShouldAllBe(word => line.Contains(word));
        output.ShouldNotContain("   at ");
        output.ShouldNotContain("Exception");
        return line;
    }
}
