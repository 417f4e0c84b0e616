using System.IO.Compression;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Web.Backup;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>The file of a backup: what it is, and that no byte of it can be changed unseen.</summary>
public sealed class BackupFileTests(SqliteBackedUpClinic place, PostgresServer server) : IClassFixture<SqliteBackedUpClinic>
{
    [Fact]
    public async Task Every_changed_byte_of_an_encrypted_backup_is_refused()
    {
        var key = BackupKey.Read(place.KeyFile);
        var bytes = await File.ReadAllBytesAsync(place.Encrypted, TestContext.Current.CancellationToken);
        BackupReader.Open(place.Encrypted, key).Dispose();
        foreach (var at in Places(bytes.Length))
        {
            await ExpectRefusedAsync(Changed(bytes, at), key);
        }
    }

    [Fact]
    public async Task Every_changed_byte_of_a_plain_backup_is_refused()
    {
        var bytes = await File.ReadAllBytesAsync(place.Plain, TestContext.Current.CancellationToken);
        BackupReader.Open(place.Plain, null).Dispose();
        foreach (var at in Places(bytes.Length))
        {
            await ExpectRefusedAsync(Changed(bytes, at), null);
        }
    }

    [Fact]
    public async Task A_backup_that_was_cut_off_or_grew_is_refused()
    {
        var key = BackupKey.Read(place.KeyFile);
        foreach (var (path, with) in new[] { (place.Encrypted, key), (place.Plain, null) })
        {
            var bytes = await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken);
            foreach (var length in new[] { 0, 1, 10, 48, 63, 64, 65, bytes.Length / 2, bytes.Length - 17, bytes.Length - 16, bytes.Length - 1 })
            {
                await ExpectRefusedAsync(bytes[..length], with);
            }

            await ExpectRefusedAsync([.. bytes, 0], with);
        }
    }

    [Fact]
    public void Chunks_can_not_be_cut_off_moved_or_doubled()
    {
        var key = BackupKey.Read(place.KeyFile);
        var content = RandomNumberGenerator.GetBytes((3 * Chunks.PlainBytes) + 5);
        var whole = Encrypted(content, key);
        Decrypted(whole, key).ShouldBe(content);
        whole.Length.ShouldBe(Chunks.HeaderBytes + (3 * Chunks.SealedBytes) + 5 + Chunks.TagBytes);

        byte[] Chunk(int index) => whole[(Chunks.HeaderBytes + (index * Chunks.SealedBytes))..Math.Min(whole.Length, Chunks.HeaderBytes + ((index + 1) * Chunks.SealedBytes))];
        var header = whole[..Chunks.HeaderBytes];
        byte[][] forged =
        [
            [.. header, .. Chunk(0), .. Chunk(1), .. Chunk(2)],
            [.. header, .. Chunk(1), .. Chunk(0), .. Chunk(2), .. Chunk(3)],
            [.. header, .. Chunk(0), .. Chunk(0), .. Chunk(1), .. Chunk(2), .. Chunk(3)],
            [.. header, .. Chunk(0), .. Chunk(2), .. Chunk(3)],
            [.. header, .. Chunk(3)],
            [.. whole, .. Chunk(3)],
            [.. Encrypted(content, key)[..Chunks.HeaderBytes], .. whole[Chunks.HeaderBytes..]],
        ];
        forged.ShouldAllBe(bytes => Throws(() => Decrypted(bytes, key)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(Chunks.PlainBytes - 1)]
    [InlineData(Chunks.PlainBytes)]
    [InlineData(Chunks.PlainBytes + 1)]
    public void Any_length_comes_back(int length)
    {
        var key = BackupKey.Read(place.KeyFile);
        var content = RandomNumberGenerator.GetBytes(length);
        Decrypted(Encrypted(content, key), key).ShouldBe(content);
    }

    [Fact]
    public async Task An_encrypted_backup_shows_nothing_of_what_is_in_it()
    {
        var bytes = await File.ReadAllBytesAsync(place.Encrypted, TestContext.Current.CancellationToken);
        bytes.AsSpan().IndexOf("manifest"u8).ShouldBe(-1);
        bytes.AsSpan().IndexOf("PK\u0003\u0004"u8).ShouldBe(-1);
        if (!OperatingSystem.IsWindows())
        {
            File.GetUnixFileMode(place.Plain).ShouldBe(UnixFileMode.UserRead | UnixFileMode.UserWrite);
        }
    }

    [Fact]
    public async Task A_plain_backup_is_an_ordinary_archive_with_its_digest_as_comment()
    {
        var bytes = await File.ReadAllBytesAsync(place.Plain, TestContext.Current.CancellationToken);
        await using var archive = await ZipFile.OpenReadAsync(place.Plain, TestContext.Current.CancellationToken);
        archive.Comment.ShouldBe(Convert.ToHexStringLower(SHA256.HashData(bytes.AsSpan(0, bytes.Length - 64))));
        var manifest = JsonNode.Parse(await archive.GetEntry("manifest.json")!.OpenAsync(TestContext.Current.CancellationToken))!;
        manifest["historyKeys"]!.AsArray().Count.ShouldBe(1);
        foreach (var table in manifest["tables"]!.AsArray())
        {
            using var content = new MemoryStream();
            await using (var entry = await archive.GetEntry($"{table!["name"]}.jsonl")!.OpenAsync(TestContext.Current.CancellationToken))
            {
                await entry.CopyToAsync(content, TestContext.Current.CancellationToken);
            }

            table["sha256"]!.GetValue<string>().ShouldBe(Convert.ToHexStringLower(SHA256.HashData(content.ToArray())));
            table["rows"]!.GetValue<long>().ShouldBe(content.ToArray().Count(one => one == '\n'));
        }
    }

    [Fact]
    public async Task Both_databases_give_the_same_tables_and_the_same_steps()
    {
        await using var sqlite = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await using var postgres = await TestDatabase.EmptyAsync(Engine.Postgres, server);
        await using var inSqlite = sqlite.NewContext();
        await using var inPostgres = postgres.NewContext();
        Lines(RecordTables.Of(inSqlite.Model)).ShouldBe(Lines(RecordTables.Of(inPostgres.Model)));
        SchemaSteps.Names(inSqlite.Database.GetMigrations()).ShouldBe(SchemaSteps.Names(inPostgres.Database.GetMigrations()));

        static IEnumerable<string> Lines(IEnumerable<BackupTable> tables) =>
            tables.SelectMany(table => table.Columns.Select(column => $"{table.Name}.{column.Name} {column.Kind}"));
    }

    // Every byte of the ends, where the lists are, and a spread of the rest.
    private static IEnumerable<int> Places(int length) =>
        Enumerable.Range(0, length).Where(at => at < 200 || at >= length - 200 || at % 97 == 0);

    private static byte[] Changed(byte[] bytes, int at)
    {
        var changed = bytes.ToArray();
        changed[at] ^= 0x20;
        return changed;
    }

    private static bool Throws(Action action)
    {
        try
        {
            action();
            return false;
        }
        catch (BackupException)
        {
            return true;
        }
    }

    private static byte[] Encrypted(byte[] content, BackupKey key)
    {
        using var file = new MemoryStream();
        using var stream = new EncryptingStream(file, key);
        stream.Write(content);
        stream.Finish();
        return file.ToArray();
    }

    private static byte[] Decrypted(byte[] bytes, BackupKey key)
    {
        using var file = new MemoryStream(bytes);
        using var stream = new DecryptingStream(file, key);
        stream.CheckAll();
        using var content = new MemoryStream();
        stream.CopyTo(content);
        return content.ToArray();
    }

    private async Task ExpectRefusedAsync(byte[] bytes, BackupKey? key)
    {
        var path = place.PathOf("refused");
        await File.WriteAllBytesAsync(path, bytes, TestContext.Current.CancellationToken);
        Should.Throw<BackupException>(() => BackupReader.Open(path, key).Dispose());
    }
}
