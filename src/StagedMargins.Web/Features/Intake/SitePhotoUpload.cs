using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Net.Http.Headers;
using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Drawing.Photos;

namespace StagedMargins.Web.Features.Intake;

/// <summary>A photo as it comes in: the file itself as the body, or the first file of a form. It never touches a disk.</summary>
internal static class SitePhotoUpload
{
    // Decoding takes much memory for a moment, so that few are decoded at once.
    private static readonly SemaphoreSlim Decoders = new(2);

    /// <summary>Reads it and strips it to its pixels.</summary>
    /// <exception cref="InvalidEntryException">There is no file, or it is not a photo that can be taken.</exception>
    internal static async Task<BarePicture> ReadAsync(HttpRequest request, CancellationToken cancel)
    {
        using var file = new MemoryStream();
        if (MediaTypeHeaderValue.TryParse(request.ContentType, out var type) && type.MediaType == "multipart/form-data")
        {
            await CopyFromFormAsync(HeaderUtilities.RemoveQuotes(type.Boundary).ToString(), request.Body, file, cancel);
        }
        else
        {
            await request.Body.CopyToAsync(file, cancel);
        }

        await Decoders.WaitAsync(cancel);
        try
        {
            return PhotoFile.Read(file.GetBuffer().AsSpan(0, (int)file.Length));
        }
        finally
        {
            Decoders.Release();
        }
    }

    private static async Task CopyFromFormAsync(string boundary, Stream form, Stream file, CancellationToken cancel)
    {
        try
        {
            var parts = new MultipartReader(boundary, form);
            while (await parts.ReadNextSectionAsync(cancel) is { } part)
            {
                if (part.GetContentDispositionHeader()?.IsFileDisposition() == true)
                {
                    await part.Body.CopyToAsync(file, cancel);
                    return;
                }
            }
        }
        catch (Exception e) when (e is InvalidDataException or ArgumentException || (e is IOException and not BadHttpRequestException))
        {
            throw new InvalidEntryException("photo", "The form with the photo can't be read.");
        }

        throw new InvalidEntryException("photo", "Required: a JPEG or PNG file.");
    }
}
