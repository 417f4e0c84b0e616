using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using System.Threading.Channels;
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
        "leftBehind", "thinOverlap", "unmapped", "beyondTarget", "piecesOverlap",
        "first reading", "amendment", "withdrawn reading", "evidence", "corrected stage",
        "refused a layer that leaves unread tissue", "refused a block off the tissue", "refused a reading that can't be right", "refused ending as cleared",
    ];

    [Fact]
    public async Task Service_and_oracle_agree_on_any_case()
    {
        var reached = new ConcurrentDictionary<string, bool>();

        // One case at a time in each clinic, for the overlap is the clinic's.
        var free = Channel.CreateUnbounded<(Caller Administrator, Caller Surgeon)>();
        free.Writer.TryWrite((clinic.Administrator, clinic.Surgeon));
        free.Writer.TryWrite(await OtherClinic.WithSurgeonAsync(clinic));
        await Rolls.SampleAsync(
            async rolls =>
            {
                var taken = await free.Reader.ReadAsync();
                try
                {
                    foreach (var one in await PlayAsync(taken.Administrator, taken.Surgeon, new RandomDraws(rolls)))
                    {
                        reached.TryAdd(one, true);
                    }
                }
                finally
                {
                    free.Writer.TryWrite(taken);
                }
            },
            iter: cases,
            threads: 2);
        await SetOverlapAsync(clinic.Administrator, 15);
        (reachesAll ? Everything : ["first reading"]).Except(reached.Keys).ShouldBeEmpty();
    }

    private static async Task<IReadOnlySet<string>> PlayAsync(Caller administrator, Caller surgeon, RandomDraws random)
    {
        var overlap = random.OneOf(15, 0, random.Below(121));
        await SetOverlapAsync(administrator, overlap);
        var compared = new ServedCaseWithOracle(surgeon, await surgeon.OpenCaseAsync(Some.Case().Without("surgeonEmail")), overlap);
        var generator = new CaseGenerator(random, compared.Oracle);
        for (var stages = random.Between(1, 5); stages > 0; stages--)
        {
            await RandomCaseSteps.StageAsync(compared, generator, random);
        }

        await RandomCaseSteps.LaterAsync(compared, generator, random, canAdd: true);
        if (compared.Oracle.Stages.Count > 1 && random.Chance(15))
        {
            await compared.WithdrawStageAsync();
        }

        await compared.EndAsync();
        await compared.CompareNowAsync(recall: false);
        await compared.CompareNowAsync(recall: await RandomCaseSteps.LaterAsync(compared, generator, random, canAdd: false));
        await compared.CompareEveryStageAsync();
        return compared.Reached;
    }

    private static async Task SetOverlapAsync(Caller administrator, int minutes) =>
        (await administrator.PostAsync("/api/clinic", new JsonObject { ["overlapMinutes"] = minutes })).Expect(200);
}

// A service of their own, because they take long: tests that share one run one after another.
[RunsFirst]
public sealed class AgreementWithTheOracleOnSqlite(SqliteClinic clinic) : AgreementWithTheOracle(clinic, cases: 200, reachesAll: true), IClassFixture<SqliteClinic>;

[RunsFirst]
public sealed class AgreementWithTheOracleOnPostgres(PostgresClinic clinic) : AgreementWithTheOracle(clinic, cases: 40, reachesAll: false), IClassFixture<PostgresClinic>;
