using CsCheck;
using StagedMargins.Core.Tests.Oracle;
using StagedMargins.Web.Tests.Features.Margins;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>Whole random cases go from one clinic to another: valid FHIR on the way, the same case there.</summary>
/// <param name="clinic">The clinic.</param>
/// <param name="cases">How many cases.</param>
public abstract class RandomExchangeTests(TestClinic clinic, int cases)
{
    private static readonly Gen<int[]> Rolls = Gen.Int[0, 9_999].Array[20, 300];

    [Fact]
    public async Task Any_case_is_the_same_case_after_it_was_taken_over()
    {
        var there = await OtherClinic.SurgeonAsync(clinic);
        await Rolls.SampleAsync(async rolls => await GoesOverAsync(new RandomDraws(rolls), there), iter: cases, threads: 1);
    }

    private async Task GoesOverAsync(RandomDraws random, Caller there)
    {
        var id = await clinic.Surgeon.OpenCaseAsync(Some.Case().With("caseNumber", $"X{Guid.NewGuid():N}"[..20]));
        var compared = new ServedCaseWithOracle(clinic.Surgeon, id, 15);
        var generator = new CaseGenerator(random, compared.Oracle);
        for (var stages = random.Between(1, 4); stages > 0; stages--)
        {
            await RandomCaseSteps.StageAsync(compared, generator, random);
        }

        await RandomCaseSteps.LaterAsync(compared, generator, random, canAdd: true);
        if (random.Chance(70))
        {
            await compared.EndAsync();
            await RandomCaseSteps.LaterAsync(compared, generator, random, canAdd: false);
        }

        var bundle = await clinic.Surgeon.BundleOfAsync(id);
        FhirCheck.Valid(bundle).Loose().ShouldBeEmpty();
        (await there.ImportAsync(bundle)).Expect(201);
        await CaseComparison.ShouldBeAsync(clinic.Surgeon, there, id);
    }
}

// A clinic of their own, because they take long: tests that share one run one after another.
public sealed class RandomExchangeTestsOnSqlite(SqliteClinic clinic) : RandomExchangeTests(clinic, cases: 12), IClassFixture<SqliteClinic>;

public sealed class RandomExchangeTestsOnPostgres(PostgresClinic clinic) : RandomExchangeTests(clinic, cases: 6), IClassFixture<PostgresClinic>;
