using Microsoft.Data.Sqlite;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Faults;

/// <summary>The disk under a SQLite record is full or can't be written. The service says so, keeps what it has, and goes on when it can.</summary>
public sealed class DiskTests(SqliteInstallation place) : IClassFixture<SqliteInstallation>
{
    [Fact]
    public async Task A_full_disk_is_said_and_costs_nothing_that_was_kept()
    {
        await using var disk = await SmallDisk.MountAsync(megabytes: 8);
        await using var program = On(disk);
        await using var service = program.StartHost();
        var surgeon = await service.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var kept = new List<string>();
        for (var round = 0; round < LongRun.Times(2, 10); round++)
        {
            kept.Add(await surgeon.OpenWithLayerAsync());
            disk.Fill();
            var refused = await RefusedAsync(surgeon);
            refused.ExpectProblem(507).Text("type").ShouldBe("urn:stagedmargins:problem:recordFull");
            (await surgeon.CaseAsync(kept[^1])).At("stages")!.AsArray().Count.ShouldBe(1);
            (await surgeon.GetAsync("/api/cases")).Expect(200);
            disk.MakeRoom();
            (await surgeon.ReadAsync(kept[^1], 1, "A", Some.Clear())).Expect(201);
        }

        foreach (var id in kept)
        {
            (await surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain.intact").ShouldBeJson("true");
        }

        var verified = await program.RunAsync("verify");
        verified.Code.ShouldBe(0, verified.Output + verified.Errors);
    }

    [Fact]
    public async Task A_file_that_can_only_be_read_stops_the_start_in_one_line()
    {
        await using var program = new Installation(Settings($"{place.Database.Connection};Mode=ReadOnly"));
        ExpectOneLine(await program.FailToStartAsync());
    }

    [Fact]
    public async Task A_folder_that_cannot_be_written_stops_the_start_in_one_line()
    {
        await using var disk = await SmallDisk.MountAsync(megabytes: 8);
        await using var program = On(disk);
        await disk.SetReadOnlyAsync(true);
        ExpectOneLine(await program.FailToStartAsync());
        await disk.SetReadOnlyAsync(false);
        await using var service = program.StartHost();
        (await service.Stranger().GetAsync("/health/ready")).Expect(200);
    }

    private static void ExpectOneLine(ProgramResult end)
    {
        end.Code.ShouldBe(1);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        end.Errors.ShouldStartWith("StagedMargins can't start.");
    }

    // A write may still find room in the file or its log, so several are tried until one does not.
    private static async Task<Reply> RefusedAsync(Caller surgeon)
    {
        for (var tries = 0; tries < 200; tries++)
        {
            var reply = await surgeon.PostAsync("/api/cases", Some.Case());
            if (reply.Status != 201)
            {
                return reply;
            }
        }

        throw new InvalidOperationException("The disk never was full.");
    }

    private Dictionary<string, string> Settings(string connection) => new(place.Database.Settings) { ["ConnectionStrings:Default"] = connection };

    private Installation On(SmallDisk disk)
    {
        var file = Path.Combine(disk.Folder, "record.db");
        using (var from = new SqliteConnection(place.Database.Connection))
        using (var to = new SqliteConnection($"Data Source={file};Pooling=False"))
        {
            from.Open();
            to.Open();
            from.BackupDatabase(to);
        }

        return new Installation(Settings($"Data Source={file}"));
    }
}
