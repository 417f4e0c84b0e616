using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace StagedMargins.Browser.Tests.Testing;

/// <summary>How a page looks: to a checker, and to whoever wants to see it.</summary>
internal static class PageAppearance
{
    // The one rule that light and dark may answer differently.
    private static readonly AxeRunOptions Contrast = new() { RunOnly = new RunOnlyOptions { Type = "rule", Values = ["color-contrast"] } };

    /// <summary>Nothing serious for axe, and nothing that scrolls the page sideways.</summary>
    internal static async Task ExpectForEveryoneAsync(this IPage page)
    {
        page.ExpectNothingSerious(await page.RunAxe());
        await page.ExpectNoScrollSidewaysAsync();
    }

    /// <summary>Enough contrast for axe.</summary>
    internal static async Task ExpectContrastAsync(this IPage page) => page.ExpectNothingSerious(await page.RunAxe(Contrast));

    /// <summary>Nothing that scrolls the page sideways.</summary>
    internal static async Task ExpectNoScrollSidewaysAsync(this IPage page) =>
        (await page.EvaluateAsync<int>("document.documentElement.scrollWidth - innerWidth")).ShouldBeLessThanOrEqualTo(0, $"{page.Url} at {page.ViewportSize!.Width}");

    private static void ExpectNothingSerious(this IPage page, AxeResult result) => result.Violations
        .Where(found => found.Impact is "serious" or "critical")
        .Select(found => $"{page.Url}: {found.Id} at {string.Join(", ", found.Nodes.Select(node => node.Html))}").ShouldBeEmpty();

    /// <summary>Keeps a picture of the whole page, where STAGEDMARGINS_TEST_PICTURES names a folder for it.</summary>
    internal static async Task ShowAsync(this IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("STAGEDMARGINS_TEST_PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{name}.png"), FullPage = true });
        }
    }
}
