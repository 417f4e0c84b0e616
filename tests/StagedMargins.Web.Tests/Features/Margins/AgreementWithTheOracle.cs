using System.Text.Json.Nodes;
using CsCheck;
using StagedMargins.Core.Tests.Oracle;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Margins;

/// <summary>Whole random cases over HTTP, kept by the service and by an oracle that works cell by cell.</summary>
/// <param name="clinic">The clinic.</param>
/// <param name="cases">How many cases.</param>
/// <param name="reachesAll">True where so many cases reach everything but the rarest.</param>
public abstract class AgreementWithTheOracle(TestClinic clinic, int cases, bool reachesAll)
{
    private static readonly Gen<int[]> Rolls = Gen.Int[0, 9_999].Array[20, 400];

    // A recall is rarer than these and has tests of its own.
    private static readonly string[] Everything =
    [
        "awaitingReadings", "tumourOutstanding", "cleared",
        "leftBehind", "thinOverlap", "unmapped", "beyondTarget",
        "first reading", "amendment",
        "refused a layer that leaves unread tissue", "refused a block off the tissue", "refused a reading that can't be right", "refused ending as cleared",
    ];

    [Fact]
    public async Task Service_and_oracle_agree_on_any_case()
    {
        var reached = new HashSet<string>();

        // One case at a time, for the overlap is the clinic's.
        await Rolls.SampleAsync(async rolls => reached.UnionWith(await PlayAsync(new RandomDraws(rolls))), iter: cases, threads: 1);
        await SetOverlapAsync(15);
        (reachesAll ? Everything : ["first reading"]).Except(reached).ShouldBeEmpty();
    }

    private async Task<IReadOnlySet<string>> PlayAsync(RandomDraws random)
    {
        var overlap = random.OneOf(15, 0, random.Below(121));
        await SetOverlapAsync(overlap);
        var compared = new ServedCaseWithOracle(clinic.Surgeon, await clinic.Surgeon.OpenCaseAsync(), overlap);
        var generator = new CaseGenerator(random, compared.Oracle);
        for (var stages = random.Between(1, 5); stages > 0; stages--)
        {
            await RandomCaseSteps.StageAsync(compared, generator, random);
        }

        await RandomCaseSteps.LaterAsync(compared, generator, random, canAdd: true);
        await compared.EndAsync();
        await compared.CompareNowAsync(recall: false);
        await compared.CompareNowAsync(recall: await RandomCaseSteps.LaterAsync(compared, generator, random, canAdd: false));
        await compared.CompareEveryStageAsync();
        return compared.Reached;
    }

    private async Task SetOverlapAsync(int minutes) =>
        (await clinic.Administrator.PostAsync("/api/clinic", new JsonObject { ["overlapMinutes"] = minutes })).Expect(200);
}

// A clinic of their own, because they take long: tests that share one run one after another.
public sealed class AgreementWithTheOracleOnSqlite(SqliteClinic clinic) : AgreementWithTheOracle(clinic, cases: 200, reachesAll: true), IClassFixture<SqliteClinic>;

public sealed class AgreementWithTheOracleOnPostgres(PostgresClinic clinic) : AgreementWithTheOracle(clinic, cases: 40, reachesAll: false), IClassFixture<PostgresClinic>;
