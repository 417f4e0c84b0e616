using System.Diagnostics.Metrics;
using StagedMargins.Storage;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Writing;

/// <summary>How many statements a write sends, which is most of what it costs. Alone, for they are counted for the whole process.</summary>
public abstract class StatementCountTests(TestClinic clinic)
{
    // Beside these stand the check of the sign-in, and what begins and ends the transaction.
    private const int MostOfWrite = 8;
    private const int OfSignIn = 1;

    [Fact]
    public async Task A_reading_under_a_key_takes_at_most_eight_statements()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        (await clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var counts = new List<long>();
        for (var i = 0; i < 5; i++)
        {
            var reading = Some.Clear().With("amends", await clinic.Surgeon.CountingAsync(id, 1, "A")).With("reason", "second look");
            counts.Add(await CountAsync(async () => (await clinic.Surgeon.ReadAsync(id, 1, "A", reading, ("Idempotency-Key", Guid.NewGuid().ToString()))).Expect(201)));
        }

        // What the program does now and then beside the requests may fall into one of the counts.
        counts.Min().ShouldBeInRange(OfSignIn + 4, OfSignIn + MostOfWrite);
    }

    [Fact]
    public async Task The_margins_of_a_case_take_three_statements()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        await clinic.Surgeon.MarginsAsync(id);
        var counts = new List<long>();
        for (var i = 0; i < 5; i++)
        {
            counts.Add(await CountAsync(() => clinic.Surgeon.MarginsAsync(id)));
        }

        counts.Min().ShouldBe(OfSignIn + 2);
    }

    private static async Task<long> CountAsync(Func<Task> request)
    {
        var count = 0L;
        using var listener = new MeterListener
        {
            InstrumentPublished = (instrument, published) =>
            {
                if (instrument.Meter.Name == StatementCount.MeterName)
                {
                    published.EnableMeasurementEvents(instrument);
                }
            },
        };
        listener.SetMeasurementEventCallback<long>((_, sent, _, _) => Interlocked.Add(ref count, sent));
        listener.Start();
        await request();
        return Interlocked.Read(ref count);
    }
}

/// <summary>Tests that run while no other does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class Alone
{
    /// <summary>The name of the collection.</summary>
    public const string Name = nameof(Alone);
}

[Collection(Alone.Name)]
public sealed class StatementCountTestsOnSqlite(SqliteClinic clinic) : StatementCountTests(clinic), IClassFixture<SqliteClinic>;

[Collection(Alone.Name)]
public sealed class StatementCountTestsOnPostgres(PostgresClinic clinic) : StatementCountTests(clinic), IClassFixture<PostgresClinic>;
