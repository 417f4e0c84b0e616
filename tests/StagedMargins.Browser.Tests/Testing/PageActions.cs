using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace StagedMargins.Browser.Tests.Testing;

/// <summary>What hands do on a page.</summary>
internal static class PageActions
{
    private const double EdgeRadius = 218;
    private const double FaceSize = 640;

    /// <summary>Draws along the edge of the marking face with a pointer, clockwise.</summary>
    internal static async Task DrawOnEdgeAsync(this IPage page, int from, int to)
    {
        var box = await page.Locator("#face").BoundingBoxAsync() ?? throw new InvalidOperationException("There is no face.");
        var scale = Math.Min(box.Width, box.Height) / FaceSize;
        (float X, float Y) At(int minutes)
        {
            var (sin, cos) = Math.SinCos(minutes * Math.PI / 360);
            return ((float)(box.X + (box.Width / 2) + (EdgeRadius * scale * sin)), (float)(box.Y + (box.Height / 2) - (EdgeRadius * scale * cos)));
        }

        await page.Mouse.MoveAsync(At(from).X, At(from).Y);
        await page.Mouse.DownAsync();
        for (var minutes = from + 5; minutes <= to; minutes += 5)
        {
            await page.Mouse.MoveAsync(At(minutes).X, At(minutes).Y);
        }

        await page.Mouse.UpAsync();
    }

    /// <summary>Goes on with the Tab key until something has the focus.</summary>
    internal static async Task TabToAsync(this IPage page, string selector)
    {
        // A page that is still being read again has nothing to go to yet.
        await Assertions.Expect(page.Locator(selector).First).ToBeEnabledAsync();
        for (var i = 0; i < 150; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<bool>("s => document.activeElement?.matches(s) ?? false", selector))
            {
                return;
            }
        }

        var at = await page.EvaluateAsync<string>("document.activeElement?.outerHTML.slice(0, 200) ?? 'nothing'");
        throw new InvalidOperationException($"The Tab key does not reach {selector} on {page.Url}; it is at {at}.");
    }

    /// <summary>Waits until the page is at an address, and loaded.</summary>
    /// <param name="page">The page.</param>
    /// <param name="address">The address; <c>*</c> stands for any part of a segment, <c>**</c> for anything.</param>
    /// <remarks>Asked for again and again: a wait for the going there misses one that is over before it begins.</remarks>
    internal static async Task ArriveAsync(this IPage page, string address)
    {
        var pattern = Regex.Escape(address).Replace(@"\*\*", ".*", StringComparison.Ordinal).Replace(@"\*", "[^/]*", StringComparison.Ordinal);
        await Assertions.Expect(page).ToHaveURLAsync(new Regex($"^{pattern}$"));
        await page.WaitForLoadStateAsync();
    }

    /// <summary>Types into a field that the Tab key reaches, over what it held.</summary>
    internal static async Task TabTypeAsync(this IPage page, string selector, string text)
    {
        await page.TabToAsync(selector);
        await page.Keyboard.PressAsync("ControlOrMeta+a");
        await page.Keyboard.TypeAsync(text);
    }

    /// <summary>Waits until the sentence that is read back holds some words.</summary>
    internal static Task SentenceAsync(this IPage page, string words) =>
        Assertions.Expect(page.Locator("#sentence")).ToContainTextAsync(words);

    /// <summary>Waits until a save is confirmed.</summary>
    internal static Task SavedAsync(this IPage page) =>
        Assertions.Expect(page.Locator("#mark-said")).ToContainTextAsync("Saved.");
}
