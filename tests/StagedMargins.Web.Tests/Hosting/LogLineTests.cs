using Serilog.Events;
using Serilog.Parsing;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>How one event is written to the log.</summary>
public sealed class LogLineTests(PostgresServer server) : IDisposable
{
    private readonly TempFolder home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public void What_an_event_carries_stays_in_its_line_and_speaks_to_no_terminal()
    {
        var written = Written("Of {Value:l}", "a\r\n[12:00:00 ERR] b\u001b[31m\0\u2028\u202ec\u0085", exception: null);
        written.ShouldBe($@"[09:10:00 WRN] Of a\u000d\u000a[12:00:00 ERR] b\u001b[31m\u0000\u2028\u202ec\u0085{Environment.NewLine}");
    }

    [Fact]
    public void An_exception_outside_requests_is_written_with_its_words_on_one_line()
    {
        var exception = new InvalidOperationException("no room\non /backups", new IOException("disk full"));
        Written("Failed", "", exception).Split(Environment.NewLine)[1..3].ShouldBe([@"System.InvalidOperationException: no room\u000aon /backups", "System.IO.IOException: disk full"]);
    }

    // A column that is not there stands for any error of the program: the database's own words say which.
    [Fact]
    public async Task An_error_of_the_program_is_logged_with_its_place_and_without_its_words()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Postgres);
        await using var service = ServiceProcess.Start(home.Path, database.Environment(), "--urls", "http://127.0.0.1:0");
        var administrator = await service.FoundAsync(TestClinic.AdministratorEmail);
        var surgeon = await TestClinic.AddAsync(administrator, await service.StrangerAsync(), TestClinic.SurgeonEmail, "surgeon");
        await database.ExecuteAsync("ALTER TABLE cases RENAME COLUMN followed_days TO elsewhere");
        (await surgeon.GetAsync("/api/cases?q=qzSentText")).ExpectProblem(500);
        await service.TerminateAsync();
        (await service.ExitCodeAsync()).ShouldBe(0);
        service.Output.ShouldContain("Npgsql.PostgresException");
        service.Output.ShouldContain("at StagedMargins.Web.Features.Cases.CaseList.");
        service.Output.ShouldNotContain("followed_days");
        service.Output.ShouldNotContain("qzSentText");
    }

    private static string Written(string template, string value, Exception? exception)
    {
        var logEvent = new LogEvent(
            new DateTimeOffset(2026, 3, 3, 9, 10, 0, TimeSpan.Zero),
            LogEventLevel.Warning,
            exception,
            new MessageTemplateParser().Parse(template),
            [new LogEventProperty("Value", new ScalarValue(value))]);
        using var output = new StringWriter();
        new LogLine().Format(logEvent, output);
        return output.ToString();
    }
}
