using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Writing;

/// <summary>Many write at the same moment: one wins, the others are told so, and nothing is half written.</summary>
public abstract class ConcurrencyTests(TestClinic clinic)
{
    private const int Rounds = 10;
    private const int Writers = 20;

    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_first_layer_sent_many_times_at_once_is_recorded_once()
    {
        for (var round = 0; round < Rounds; round++)
        {
            var id = await Surgeon.OpenCaseAsync();
            var replies = await AtOnceAsync(Writers, _ => Surgeon.RecordAsync(id, Some.WholeLayer()));
            OneWins(replies);
            await HasAsync(id, stages: 1, version: 2);
        }
    }

    [Fact]
    public async Task A_later_layer_sent_many_times_at_once_is_recorded_once()
    {
        for (var round = 0; round < Rounds; round++)
        {
            var id = await Surgeon.OpenClearAsync();
            var replies = await AtOnceAsync(Writers, _ => Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00")));
            OneWins(replies);
            await HasAsync(id, stages: 2, version: 5);
        }
    }

    [Fact]
    public async Task A_layer_that_says_its_number_sent_many_times_at_once_is_recorded_once()
    {
        for (var round = 0; round < Rounds; round++)
        {
            var id = await Surgeon.OpenWithLayerAsync();
            var replies = await AtOnceAsync(Writers, _ => Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", "patient unwell").With("number", 2)));
            OneWins(replies);
            await HasAsync(id, stages: 2, version: 3);
        }
    }

    [Fact]
    public async Task Layers_with_a_reason_for_what_is_unread_at_once_are_each_recorded_or_refused_and_never_share_a_number()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var replies = await AtOnceAsync(Writers, _ => Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", "patient unwell")));
        replies.ShouldAllBe(reply => reply.Status == 201 || reply.Status == 409);
        var numbers = replies.Where(reply => reply.Status == 201).Select(reply => reply.Json["number"]!.GetValue<int>()).Order().ToList();
        numbers.ShouldBe(Enumerable.Range(2, numbers.Count));
        await HasAsync(id, stages: 1 + numbers.Count, version: 2 + numbers.Count);
    }

    [Fact]
    public async Task Readings_of_different_blocks_at_once_are_all_kept()
    {
        const int blocks = 12;
        for (var round = 0; round < Rounds; round++)
        {
            var id = await Surgeon.OpenCaseAsync();
            var layer = Some.WholeLayer();
            layer["blocks"] = new JsonArray([.. Enumerable.Range(0, blocks).Select(i => Some.Block($"{(char)('A' + i)}", $"{(i == 0 ? 12 : i):00}:00", $"{i + 1:00}:00").With("centre", i == 0))]);
            (await Surgeon.RecordAsync(id, layer)).Expect(201);
            var replies = await AtOnceAsync(blocks, i => Surgeon.ReadAsync(id, 1, $"{(char)('A' + i)}", Some.Clear()));
            replies.ShouldAllBe(reply => reply.Status == 201);
            replies.Select(reply => reply.Version()).Order().ShouldBe(Enumerable.Range(3, blocks));
            await HasAsync(id, stages: 1, version: 2 + blocks);
            (await Surgeon.MarginsAsync(id)).Text("state").ShouldBe("cleared");
        }
    }

    [Fact]
    public async Task A_block_read_many_times_at_once_has_one_reading()
    {
        for (var round = 0; round < Rounds; round++)
        {
            var id = await Surgeon.OpenWithLayerAsync();
            var replies = await AtOnceAsync(Writers, i => Surgeon.ReadAsync(id, 1, "B", i % 2 == 0 ? Some.Clear() : Some.Tumour("07:00", "08:00")));
            OneWins(replies);
            var won = replies.Single(reply => reply.Status == 201);
            (await Surgeon.CaseAsync(id)).At("stages[0].blocks[1].readings")!.AsArray().ShouldHaveSingleItem()!["id"]!.GetValue<string>().ShouldBe(won.Text("id"));
            await HasAsync(id, stages: 1, version: 3);
        }
    }

    [Fact]
    public async Task A_reading_amended_many_times_at_once_has_one_amendment()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201).Text("id");
        var replies = await AtOnceAsync(Writers, _ => Surgeon.ReadAsync(id, 1, "B", Some.Clear().With("amends", first).With("reason", "second look")));
        OneWins(replies);
        await HasAsync(id, stages: 1, version: 4);
    }

    [Fact]
    public async Task A_case_ended_many_times_at_once_ends_once()
    {
        var id = await Surgeon.OpenClearAsync();
        var replies = await AtOnceAsync(Writers, _ => Surgeon.EndAsync(id, Some.EndCleared()));
        replies.Count(reply => reply.Status == 200).ShouldBe(1);
        replies.Count(reply => reply.Status == 409).ShouldBe(Writers - 1);
        await HasAsync(id, stages: 1, version: 5);
    }

    [Fact]
    public async Task A_case_is_not_ended_as_cleared_over_a_layer_recorded_at_the_same_moment()
    {
        for (var round = 0; round < Rounds; round++)
        {
            var id = await Surgeon.OpenClearAsync();
            var replies = await AtOnceAsync(2, i => i == 0 ? Surgeon.EndAsync(id, Some.EndCleared()) : Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00")));
            replies.Count(reply => reply.Status is 200 or 201).ShouldBe(1);
            replies.Count(reply => reply.Status == 409).ShouldBe(1);
            var read = await Surgeon.CaseAsync(id);
            (read.Text("status") == "ended").ShouldBe(read.At("stages")!.AsArray().Count == 1);
        }
    }

    [Fact]
    public async Task Cases_opened_at_once_get_consecutive_numbers()
    {
        var before = Count((await Surgeon.PostAsync("/api/cases", Some.Case())).Expect(201));
        var replies = await AtOnceAsync(40, _ => Surgeon.PostAsync("/api/cases", Some.Case()));
        replies.ShouldAllBe(reply => reply.Status == 201);
        replies.Select(Count).Order().ShouldBe(Enumerable.Range(before + 1, 40));
    }

    [Fact]
    public async Task A_case_number_chosen_many_times_at_once_is_given_once()
    {
        var number = $"C-{Guid.NewGuid():N}"[..20];
        var replies = await AtOnceAsync(Writers, _ => Surgeon.PostAsync("/api/cases", Some.Case().With("caseNumber", number)));
        OneWins(replies);
    }

    [Fact]
    public async Task A_person_added_many_times_at_once_is_added_once()
    {
        var email = $"q{Guid.NewGuid():N}@clinic.invalid";
        var replies = await AtOnceAsync(8, _ => clinic.Administrator.PostAsync("/api/people", Some.Person(email, "manager")));
        replies.Count(reply => reply.Status == 201).ShouldBe(1);
        replies.Where(reply => reply.Status != 201).ShouldAllBe(reply => reply.Status == 400 || reply.Status == 409);
    }

    [Fact]
    public async Task Readers_beside_a_writer_never_see_half_a_write()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var writing = WriteOnAsync(id);
        do
        {
            // Each version has exactly one more entry than the one before: a layer, or a reading.
            var read = await Surgeon.CaseAsync(id);
            var stages = read.At("stages")!.AsArray();
            var readings = stages.Sum(stage => stage!["blocks"]!.AsArray().Sum(block => block!["readings"]!.AsArray().Count));
            read.Version().ShouldBe(1 + stages.Count + readings);
        }
        while (!writing.IsCompleted);
        await writing;
    }

    private async Task WriteOnAsync(string id)
    {
        for (var stage = 2; stage <= 20; stage++)
        {
            (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", "x"))).Expect(201);
            (await Surgeon.ReadAsync(id, stage, "A", Some.Clear())).Expect(201);
        }
    }

    private static int Count(Reply opened) => int.Parse(opened.Text("caseNumber")[5..], null);

    private static void OneWins(IReadOnlyList<Reply> replies)
    {
        replies.Count(reply => reply.Status == 201).ShouldBe(1, string.Join(", ", replies.GroupBy(reply => reply.Status).Select(group => $"{group.Key} × {group.Count()}")));
        foreach (var lost in replies.Where(reply => reply.Status != 201))
        {
            lost.Status.ShouldBeInRange(400, 499);
            lost.ExpectProblem(lost.Status);
        }
    }

    private async Task HasAsync(string id, int stages, int version)
    {
        var read = await Surgeon.CaseAsync(id);
        read.At("stages")!.AsArray().Count.ShouldBe(stages);
        read.Version().ShouldBe(version);
        (await clinic.Database.EntriesAsync(id)).Select(entry => entry.SubjectNumber).ShouldBe(Enumerable.Range(1, version).Select(number => (long?)number));
    }

    private static async Task<IReadOnlyList<Reply>> AtOnceAsync(int count, Func<int, Task<Reply>> send)
    {
        var gate = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var sent = Enumerable.Range(0, count).Select(async i =>
        {
            await gate.Task;
            return await send(i);
        }).ToList();
        gate.SetResult();
        return await Task.WhenAll(sent);
    }
}

// A clinic of their own, because they take long: tests that share one run one after another.
public sealed class ConcurrencyTestsOnSqlite(SqliteClinic clinic) : ConcurrencyTests(clinic), IClassFixture<SqliteClinic>;

public sealed class ConcurrencyTestsOnPostgres(PostgresClinic clinic) : ConcurrencyTests(clinic), IClassFixture<PostgresClinic>;
