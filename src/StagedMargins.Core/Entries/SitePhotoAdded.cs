using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A photo of the site as it is marked on the patient was added. Its file is kept apart and found by its digest.</summary>
/// <param name="Site">The site of the case when it was added.</param>
/// <param name="ContentType">Its media type.</param>
/// <param name="WidthPx">Width in pixels.</param>
/// <param name="HeightPx">Height in pixels.</param>
/// <param name="Sha256">SHA-256 over the file, hexadecimal.</param>
public sealed record SitePhotoAdded(RecordedSite Site, string ContentType, int WidthPx, int HeightPx, string Sha256) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<SitePhotoAdded>("addSitePhoto", inPerson: true);

    /// <summary>Decides that a photo is added.</summary>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    /// <exception cref="InvalidEntryException">The case has as many as it can have.</exception>
    public static SitePhotoAdded Decide(SurgicalCase state, BarePicture picture) =>
        Decide(state, picture.ContentType, picture.WidthPx, picture.HeightPx, picture.Digest());

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, ContentType, WidthPx, HeightPx, Sha256);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryPhoto;

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state with { SitePhotos = state.SitePhotos.Plus(new SitePhoto(this, state.SitePhotos.Count + 1, written)) };

    private static SitePhotoAdded Decide(SurgicalCase state, string contentType, int widthPx, int heightPx, string sha256)
    {
        state.GuardOpen("no photo of its site can be added");
        SurgicalCase.GuardEntryLimit("photo", state.SitePhotos.Count, RecordLimits.SitePhotos);
        return new SitePhotoAdded(RecordedSite.Of(state.Facts.Site), contentType, widthPx, heightPx, sha256);
    }
}
