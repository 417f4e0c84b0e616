using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace StagedMargins.Browser.Tests.Testing;

/// <summary>How a page looks: to a checker, and to whoever wants to see it.</summary>
internal static class PageAppearance
{
    /// <summary>Nothing serious for axe, and nothing that scrolls the page sideways.</summary>
    internal static async Task ExpectForEveryoneAsync(this IPage page)
    {
        var serious = (await page.RunAxe()).Violations.Where(found => found.Impact is "serious" or "critical");
        serious.Select(found => $"{page.Url}: {found.Id} at {string.Join(", ", found.Nodes.Select(node => node.Html))}").ShouldBeEmpty();
        (await page.EvaluateAsync<int>("document.documentElement.scrollWidth - innerWidth")).ShouldBeLessThanOrEqualTo(0, page.Url);
    }

    /// <summary>Keeps a picture of the whole page, where STAGEDMARGINS_TEST_PICTURES names a folder for it.</summary>
    internal static async Task ShowAsync(this IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("STAGEDMARGINS_TEST_PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{name}.png"), FullPage = true });
        }
    }
}
