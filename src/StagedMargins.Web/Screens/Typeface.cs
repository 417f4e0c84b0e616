using StagedMargins.Drawing;

namespace StagedMargins.Web.Screens;

/// <summary>The typeface of the maps, for the pages as well.</summary>
public static class Typeface
{
    /// <summary>Adds the routes.</summary>
    public static void MapTypeface(this IEndpointRouteBuilder routes)
    {
        foreach (var name in new[] { "AtkinsonHyperlegible-Regular.ttf", "AtkinsonHyperlegible-Bold.ttf" })
        {
            routes.MapGet($"/fonts/{name}", (HttpContext http) =>
            {
                http.Response.Headers.CacheControl = "public, max-age=604800";
                return Results.Stream(typeof(MapPicture).Assembly.GetManifestResourceStream(name)!, "font/ttf");
            }).AllowAnonymous().ExcludeFromDescription();
        }
    }
}
