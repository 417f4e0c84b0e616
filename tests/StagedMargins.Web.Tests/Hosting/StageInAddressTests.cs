using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>The stage in a case page's address is typed by people and cut by mail programs: what is no stage shows the last one.</summary>
[Collection<OnSqlite>]
public sealed class StageInAddressTests(SqliteClinic clinic)
{
    [Theory]
    [InlineData("x")]
    [InlineData("1x")]
    [InlineData("-1")]
    [InlineData("1.5")]
    [InlineData("99999999999999999999")]
    [InlineData("%0d%0a1")]
    [InlineData("")]
    public async Task What_is_no_stage_shows_the_last(string stage)
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        var page = (await clinic.Surgeon.GetAsync($"/cases/{id}?stage={stage}")).Expect(200);
        page.MediaType.ShouldBe("text/html");
        page.Body.ShouldContain("afterStage=1");
    }
}
