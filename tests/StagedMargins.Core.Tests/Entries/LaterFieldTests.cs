using System.Text;
using System.Text.Json;
using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Tests.Entries;

/// <summary>A form may get a field whose absence has a meaning: earlier bodies read as before, and a program that does not know the field says so.</summary>
public sealed class LaterFieldTests
{
    private sealed record Earlier(int Stage, string Block);

    private sealed record Later(int Stage, string Block, string? Cassette = null);

    [Fact]
    public void A_field_that_was_added_later_is_absent_in_an_earlier_body()
    {
        var body = JsonSerializer.SerializeToUtf8Bytes(new Earlier(2, "B"), EntryJson.Options);
        JsonSerializer.Deserialize<Later>(body, EntryJson.Options).ShouldBe(new Later(2, "B"));
    }

    [Fact]
    public void A_body_with_a_field_that_is_not_known_is_not_read_by_guessing()
    {
        var body = JsonSerializer.SerializeToUtf8Bytes(new Later(2, "B", "B1"), EntryJson.Options);
        Should.Throw<JsonException>(() => JsonSerializer.Deserialize<Earlier>(body, EntryJson.Options));
        Should.Throw<JsonException>(() => JsonSerializer.Deserialize<Later>(Encoding.UTF8.GetBytes("""{ "stage": 2 }"""), EntryJson.Options));
    }
}
