using System.Text.Json;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Entries;

/// <summary>Cases made again from the bodies of their entries.</summary>
internal static class StoredCase
{
    private static readonly SubjectKey Subject = new(Guid.Empty, "case", Guid.Empty, DataKey.Create());

    private static readonly JsonSerializerOptions Everything = new(EntryJson.Options) { IncludeFields = true, MaxDepth = 128 };

    /// <summary>The case that its entries make once they were written and read.</summary>
    internal static SurgicalCase MadeAgain(CaseLog kept) =>
        SurgicalCase.FromEntries(kept.Case.ClinicId, kept.Case.Id, kept.NewEntries.Select(entry => (Stored(entry.Event), entry.Written)));

    /// <summary>The same with each entry decided anew, as an import does.</summary>
    internal static SurgicalCase DecidedAgain(CaseLog kept)
    {
        var decided = SurgicalCase.Unopened(kept.Case.ClinicId, kept.Case.Id);
        foreach (var (entry, written) in kept.NewEntries)
        {
            var again = entry is CaseOpened opened ? opened.DecideAgain() : Stored(entry).DecideAgain(decided, written).WithReviews(decided, written, entry.Raised);
            EntryJson.WriteOpen(again).ShouldBe(EntryJson.WriteOpen(entry), $"{entry.EntryKind.Word} decided anew");
            decided = decided.Apply(again, written);
        }

        return decided;
    }

    /// <summary>Everything that a case says of itself, to be compared.</summary>
    internal static string Text(SurgicalCase surgicalCase) => JsonSerializer.Serialize(
        new
        {
            surgicalCase.CaseNumber, surgicalCase.PatientRef, surgicalCase.SurgeonId, surgicalCase.TwelveOClock, surgicalCase.OpenedById, surgicalCase.OpenedAt,
            surgicalCase.Version, surgicalCase.State, surgicalCase.Recall, surgicalCase.Stages, surgicalCase.Ending, surgicalCase.MeasuredDefects, surgicalCase.Facts, surgicalCase.FactsCorrections,
            surgicalCase.SiteConfirmations, Photos = surgicalCase.SitePhotos.Select(photo => photo.Sha256), surgicalCase.Assessments, surgicalCase.Doses,
            surgicalCase.Repairs, surgicalCase.Visits, surgicalCase.PermanentSections, surgicalCase.SecondReads, Margins = surgicalCase.Margins(Some.Overlap),
        },
        Everything);

    /// <summary>An entry as it is after it was written and read.</summary>
    internal static CaseEvent Stored(CaseEvent entry) => EntryJson.Read(entry.EntryKind, EntryJson.Write(entry, Subject), Subject);
}
