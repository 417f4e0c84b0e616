using System.Text;
using StagedMargins.Core;
using StagedMargins.Drawing;
using StagedMargins.Storage;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Pictures;

/// <summary>Which picture is asked for.</summary>
/// <param name="Width">Width in pixels, 200 to 4000; 1200 where absent.</param>
/// <param name="Patient">True where the patient reference is wanted on the picture.</param>
/// <param name="AfterStage">For the cumulative map: the state after this stage; after the last one where absent.</param>
/// <param name="View"><c>patient</c>, as one faces the skin, where absent; or <c>slide</c>, mirrored.</param>
/// <param name="WithoutSurround">True for a page that says case, state, notices and caution itself, so that the face is larger.</param>
/// <param name="AsOf">An entry of the case, or a time: the map as it was known then.</param>
public sealed record PictureQuery(int? Width, bool? Patient, int? AfterStage, string? View, bool? WithoutSurround, string? AsOf);

/// <summary>Maps as pictures.</summary>
public static class PictureEndpoints
{
    private const int UsualWidth = 1200;
    private const string Png = "image/png";
    private const string Svg = "image/svg+xml";

    /// <summary>Adds the routes.</summary>
    public static void MapPictures(this IEndpointRouteBuilder cases)
    {
        var pictures = cases.MapGroup("/{id:guid}").WithTags("Pictures").RequireAuthorization(Policies.SeeCase);
        pictures.MapGet("/map.png", CumulativePng).WithSummary("The cumulative map as PNG.").Produces<byte[]>(contentType: Png);
        pictures.MapGet("/map.svg", CumulativeSvg).WithSummary("The cumulative map as SVG.").Produces<string>(contentType: Svg);
        pictures.MapGet("/stages/{n:int}/map.png", StagePng).WithSummary("The map of a stage as PNG.").Produces<byte[]>(contentType: Png);
        pictures.MapGet("/stages/{n:int}/map.svg", StageSvg).WithSummary("The map of a stage as SVG.").Produces<string>(contentType: Svg);
    }

    private static Task<IResult> CumulativePng(Guid id, [AsParameters] PictureQuery query, ClinicContext db, PresentClinics clinics, HttpContext http, CancellationToken cancel) =>
        DrawAsync(id, null, Png, query, db, clinics, http, cancel);

    private static Task<IResult> CumulativeSvg(Guid id, [AsParameters] PictureQuery query, ClinicContext db, PresentClinics clinics, HttpContext http, CancellationToken cancel) =>
        DrawAsync(id, null, Svg, query, db, clinics, http, cancel);

    private static Task<IResult> StagePng(Guid id, int n, [AsParameters] PictureQuery query, ClinicContext db, PresentClinics clinics, HttpContext http, CancellationToken cancel) =>
        DrawAsync(id, n, Png, query, db, clinics, http, cancel);

    private static Task<IResult> StageSvg(Guid id, int n, [AsParameters] PictureQuery query, ClinicContext db, PresentClinics clinics, HttpContext http, CancellationToken cancel) =>
        DrawAsync(id, n, Svg, query, db, clinics, http, cancel);

    private static async Task<IResult> DrawAsync(
        Guid id, int? stage, string type, PictureQuery query, ClinicContext db, PresentClinics clinics, HttpContext http, CancellationToken cancel)
    {
        var width = query.Width ?? UsualWidth;
        if (width is < MapPicture.Narrowest or > MapPicture.Widest)
        {
            throw new InvalidEntryException("width", $"Must be {MapPicture.Narrowest} to {MapPicture.Widest} pixels.");
        }

        var seen = await SeenCase.FindAsync(db, clinics, id, query.AsOf, cancel);
        var found = seen.Case;
        var request = new MapRequest(found, seen.Settings.Overlap, (stage ?? query.AfterStage) is { } n ? found.StageOf(n).Number : found.Stages.Count, stage is null, query.Patient ?? false)
        {
            View = ViewOf(query.View),
            WithoutSurround = query.WithoutSurround ?? false,
            AsOf = seen.Notice,
        };

        // A picture is the same as long as the case, what is asked of it, the clinic's overlap and the drawing program are.
        var from = FormattableString.Invariant($"{id} {found.Version} {request.Overlap.Minutes} {request.Stage} {request.Cumulative} {request.ShowPatientRef} {request.View} {request.WithoutSurround} {seen.AsOf?.LaterEntries} {type} {width}");
        return CachedImageResult.Create(http, from, () => type == Png
            ? Results.Bytes(MapPicture.ToPng(request, width), Png)
            : Results.Text(MapPicture.ToSvg(request, width), Svg, Encoding.UTF8));
    }

    // Never guessed: a mirrored map taken for the other shows the wrong side.
    private static MapView ViewOf(string? word) => word switch
    {
        null or "patient" => MapView.Patient,
        "slide" => MapView.Slide,
        _ => throw new InvalidEntryException("view", "Must be patient or slide."),
    };
}
