using System.Text.Json;
using System.Text.Json.Nodes;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Demo;

/// <summary>The invented clinic as it stands in <c>demo-data/clinic.json</c>.</summary>
/// <param name="Name">Its name.</param>
/// <param name="TimeZone">Its time zone.</param>
/// <param name="OverlapMinutes">Its overlap.</param>
/// <param name="People">Its people.</param>
internal sealed record DemoClinic(string Name, string TimeZone, int OverlapMinutes, DemoPerson[] People);

/// <summary>An invented person.</summary>
internal sealed record DemoPerson(string Email, string Name, string[] Roles);

/// <summary>An invented case as it stands in <c>demo-data/cases.json</c>: what was sent to the API, and when.</summary>
internal sealed record DemoCase(int DaysAgo, TimeOnly StartsAt, string OpenedBy, CaseBody Case, DemoEvent[] Events);

/// <summary>One thing that happened in it; exactly one of the fields after <paramref name="By"/> is set.</summary>
internal sealed record DemoEvent(
    int AfterMinutes,
    string By,
    SiteConfirmationBody? ConfirmSite,
    StageBody? Stage,
    DemoTimes? Times,
    JsonObject? Reading,
    DemoPlace? Countersign,
    JsonObject? Block,
    EndBody? End,
    DoseBody? Dose,
    RepairBody? Repair,
    VisitBody? Visit,
    DemoSent? PermanentSection,
    DemoResult? PermanentResult,
    DemoSecondRead? SecondRead,
    SecondReadSubmitted? SecondReadAnswer,
    ReviewAnswerBody? AnswerReviews);

/// <summary>Times at the bench, minutes after the case started.</summary>
internal sealed record DemoTimes(int Stage, int? ReceivedAfterMinutes, int? SlidesReadyAfterMinutes);

/// <summary>A block of a stage.</summary>
internal sealed record DemoPlace(int Stage, string Block);

/// <summary>A block sent for permanent sections.</summary>
internal sealed record DemoSent(int Stage, string Block, string? Note);

/// <summary>What permanent sections of a block showed.</summary>
internal sealed record DemoResult(int Stage, string Block, ReadingOutcome Outcome);

/// <summary>A block that a second reader is asked to read blind.</summary>
internal sealed record DemoSecondRead(int Stage, string Block, string ReaderEmail);

/// <summary>Reads the files of the invented clinic, which travel with the program.</summary>
internal static class DemoFiles
{
    private static readonly JsonSerializerOptions Options = Create();

    internal static DemoClinic Clinic() => Read<DemoClinic>("clinic.json");

    internal static DemoCase[] Cases() => Read<DemoCase[]>("cases.json");

    /// <summary>A part of an event as the API would take it.</summary>
    internal static T As<T>(JsonObject part) => part.Deserialize<T>(Options)!;

    private static T Read<T>(string file)
    {
        using var stream = File.OpenRead(Path.Combine(AppContext.BaseDirectory, "demo-data", file));
        return JsonSerializer.Deserialize<T>(stream, Options)!;
    }

    private static JsonSerializerOptions Create()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web);
        ApiJson.Configure(options);
        return options;
    }
}
