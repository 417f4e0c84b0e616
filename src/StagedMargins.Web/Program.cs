using Serilog;
using StagedMargins.Web.AccessLog;
using StagedMargins.Web.Commands;
using StagedMargins.Web.Demo;
using StagedMargins.Web.Features.AccessLog;
using StagedMargins.Web.Features.Account;
using StagedMargins.Web.Features.Anaesthetic;
using StagedMargins.Web.Features.ApiDocs;
using StagedMargins.Web.Features.ApiTokens;
using StagedMargins.Web.Features.Audit;
using StagedMargins.Web.Features.Backups;
using StagedMargins.Web.Features.Cases;
using StagedMargins.Web.Features.CountingUnits;
using StagedMargins.Web.Features.Corrections;
using StagedMargins.Web.Features.Endings;
using StagedMargins.Web.Features.Events;
using StagedMargins.Web.Features.Exchange;
using StagedMargins.Web.Features.FollowUp;
using StagedMargins.Web.Features.Health;
using StagedMargins.Web.Features.History;
using StagedMargins.Web.Features.Intake;
using StagedMargins.Web.Features.Margins;
using StagedMargins.Web.Features.Oidc;
using StagedMargins.Web.Features.Paper;
using StagedMargins.Web.Features.Pictures;
using StagedMargins.Web.Features.Readings;
using StagedMargins.Web.Features.Risk;
using StagedMargins.Web.Features.Evidence;
using StagedMargins.Web.Features.Settings;
using StagedMargins.Web.Features.SignIn;
using StagedMargins.Web.Features.Stages;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Screens;

var isDemo = args.Contains("--demo");
try
{
    var command = CommandLine.Find(args);
    var builder = WebApplication.CreateBuilder(new WebApplicationOptions
    {
        Args = [.. args.Skip(command is null ? 0 : 1).Where(arg => arg != "--demo")],
        ContentRootPath = AppContext.BaseDirectory,
    });
    builder.WebHost.ConfigureKestrel(RequestLimits.OfServer);
    builder.Services.AddSerilog(log => log.ReadFrom.Configuration(builder.Configuration).WriteTo.Console(new LogLine()));
    builder.Services.AddDatabase(builder.Configuration, isDemo ? "demo.db" : "record.db", isService: command is null);
    builder.Services.AddHistoryKeys(builder.Configuration, mayMake: command is null);
    builder.Services.AddSignIn(builder.Configuration, isDemo);
    builder.Services.AddRequestLimits(builder.Configuration);
    builder.Services.AddApi();
    builder.Services.AddBackups(builder.Configuration, isService: command is null);
    builder.Services.AddAudit(builder.Configuration);
    builder.Services.AddCountingUnits();
    builder.Services.AddApiDescription();
    builder.Services.AddHealth();
    builder.Services.AddScreens();
    builder.WebHost.UseStaticWebAssets();

    var app = builder.Build();
    if (command is not null)
    {
        return await command(app.Services, Console.Out);
    }

    app.UseProxy();
    app.UseSecurityHeaders();
    if (!isDemo)
    {
        app.UseHsts();
    }

    // Outside the refusals, so that the log shows the status that was sent and not the exception that said it.
    app.UseRequestLog();
    app.UseJsonRefusals();
    app.UseExceptionHandler();
    app.UseStatusCodePages();
    app.UseRouting();
    app.UseRequestTimeouts();
    app.UseAuthentication();
    app.UseSessions();
    app.UseForgeryGuard();
    app.UseAuthorization();
    app.UseAntiforgery();

    app.MapStaticAssets().AllowAnonymous();
    app.MapRazorComponents<App>();
    app.MapPageSignIn();
    app.MapTypeface();
    app.MapHealth();
    app.MapApiDescription();
    app.MapSignIn();
    app.MapFirstAdministrator();
    app.MapOwnAccount();
    app.MapTwoFactor();
    app.MapPasskeys();
    app.MapApiTokens();
    app.MapOidc();
    app.MapPeople();
    app.MapClinic();
    app.MapRetention();
    app.MapRecordEnd();
    app.MapBackups();
    app.MapEvents();
    app.MapAudit();
    app.MapSecondReadTasks();
    app.MapRecurrence();
    app.MapCountingUnits();
    app.MapCasesCsv();
    var cases = app.MapGroup("/api/cases").AddEndpointFilter<RouteGroupBuilder, AccessLogFilter>().AddEndpointFilter<RouteGroupBuilder, BlindReadFilter>();
    cases.MapCases();
    cases.MapCaseList();
    cases.MapStages();
    app.MapBlockPlan();
    cases.MapReadings();
    cases.MapMargins();
    cases.MapEndings();
    cases.MapFacts();
    cases.MapSiteConfirmations();
    cases.MapSitePhoto();
    cases.MapRisk();
    cases.MapAnaesthetic();
    cases.MapFollowUp();
    cases.MapPermanentSections();
    cases.MapSecondReads();
    cases.MapCorrections();
    cases.MapReviews();
    cases.MapHistory();
    cases.MapOpenings();
    cases.MapPictures();
    cases.MapRecordPdf();
    cases.MapLabelsPdf();
    cases.MapFhir();
    cases.MapImport();

    await using (await StartupLock.TakeAsync(app.Services))
    {
        await Database.MigrateAsync(app.Services);
        await HistoryKeyFile.GuardAsync(app.Services);
        await FirstStart.MakeRolesAsync(app.Services);
        await (isDemo ? DemoStart.PrepareAsync(app) : FirstStart.PrepareAsync(app.Services, Console.Out));
        await RebuildCommand.RebuildEarlierAsync(app.Services);
        await AuditUpkeep.RebuildAsync(app.Services, onlyMissing: true);
    }

    await app.RunAsync();
    return 0;
}
catch (Exception e) when (StartFailure.LineFor(e) is { } line)
{
    await Console.Error.WriteLineAsync(CommandLine.IsTask(args) ? line : $"StagedMargins can't start. {line}");
    return 1;
}

/// <summary>The host; named for tests.</summary>
public partial class Program;
