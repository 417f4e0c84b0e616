using System.Text.Json;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Photos;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>
/// Decides each entry of a record from elsewhere anew, so that nothing gets in that could not have been entered here. Each keeps its
/// author and time there as its origin; whoever imports it is its author here.
/// </summary>
/// <param name="clinicId">The clinic that takes the case.</param>
/// <param name="people">The authors as they are known here.</param>
/// <param name="record">The record.</param>
/// <param name="caseNumber">The number that the case gets.</param>
/// <param name="sha256">SHA-256 of the file, hexadecimal.</param>
internal sealed class RecordReplay(Guid clinicId, ImportedPeople people, CheckedRecord record, string caseNumber, string sha256)
{
    private readonly List<EntryToWrite> entries = [];
    private readonly List<BarePicture> photos = [];
    private SurgicalCase? replayed;

    /// <summary>The entries to be written, once it was played.</summary>
    internal IReadOnlyList<EntryToWrite> Entries => entries;

    /// <summary>The files of its photos, once it was played.</summary>
    internal IReadOnlyList<BarePicture> Photos => photos;

    /// <summary>Decides everything.</summary>
    /// <param name="by">Who imports it.</param>
    /// <param name="at">When.</param>
    /// <exception cref="InvalidEntryException">An entry is not what this program would have written.</exception>
    /// <exception cref="RuleViolationException">The rules of the record forbid an entry where it stands.</exception>
    internal SurgicalCase Play(LedgerAuthor by, ClinicalTime at)
    {
        foreach (var entry in record.Entries)
        {
            Named(entry, () =>
            {
                var written = new Authorship(people.Here(entry.By), entry.At);
                var decided = Decide(entry, written);
                replayed = replayed!.Apply(decided, written);
                entries.Add(new EntryToWrite(decided, by, at, new EntryOrigin(written.ById, people.AddressOf(entry.By), entry.At, sha256)));
            });
        }

        return replayed!;
    }

    private CaseEvent Decide(CheckedEntry entry, Authorship written)
    {
        GuardRules(entry.Event);
        var said = entry.Event.WithPeople(people.Here);
        if (entry.Event is SitePhotoAdded photo)
        {
            photos.Add(PhotoOf(entry, photo));
        }

        if (replayed is null)
        {
            var opened = said as CaseOpened ?? throw new InvalidEntryException("what", "The first entry must open the case.");
            replayed = SurgicalCase.Unopened(clinicId, record.CaseId);
            return Same((CaseOpened)WithEarlierRisk(opened.DecideAgain(), opened), opened) with { CaseNumber = caseNumber };
        }

        return Same(WithEarlierRisk(said.DecideAgain(replayed, written), said).WithReviews(replayed, written, said.Raised), said);
    }

    // What was said there must be what follows here, word for word.
    private static T Same<T>(CaseEvent decided, T said)
        where T : CaseEvent
    {
        var (here, there) = (Fields(decided), Fields(said));
        return here.Keys.Union(there.Keys).FirstOrDefault(field => here.GetValueOrDefault(field) != there.GetValueOrDefault(field)) is { } differing
            ? throw new InvalidEntryException($"content.{differing}", "This does not follow from the entries before it: the file was changed or made by another version.")
            : (T)decided;
    }

    private static Dictionary<string, string> Fields(CaseEvent entry)
    {
        using var json = JsonDocument.Parse(EntryJson.WriteOpen(entry));
        return json.RootElement.EnumerateObject().ToDictionary(field => field.Name, field => field.Value.GetRawText());
    }

    private static RiskAssessment? RiskOf(CaseEvent entry) => entry switch
    {
        CaseOpened opened => opened.Risk,
        FactsCorrected corrected => corrected.Risk,
        _ => null,
    };

    private static void GuardRules(CaseEvent entry)
    {
        if (RiskOf(entry) is { } risk && !RiskAssessment.KnownRules().Contains(risk.RuleVersion))
        {
            throw new InvalidEntryException(
                "content.risk.ruleVersion",
                $"This program knows the rules of risk {string.Join(", ", RiskAssessment.KnownRules())}; assessments by other rules can't be imported.");
        }
    }

    // Earlier rules are no longer applied, so an assessment by them is kept as it was made there.
    private static CaseEvent WithEarlierRisk(CaseEvent decided, CaseEvent said) => RiskOf(said) is { } risk && risk.IsByEarlierRules()
        ? decided switch
        {
            CaseOpened opened => opened with { Risk = risk },
            FactsCorrected corrected => corrected with { Risk = risk },
            _ => decided,
        }
        : decided;

    private static BarePicture PhotoOf(CheckedEntry entry, SitePhotoAdded added)
    {
        var picture = PhotoFile.ReadBare(entry.Photo ?? throw new InvalidEntryException("photo", "Required."));
        return (picture.Digest(), picture.ContentType, picture.WidthPx, picture.HeightPx) == (added.Sha256, added.ContentType, added.WidthPx, added.HeightPx)
            ? picture
            : throw new InvalidEntryException("photo", "This photo does not match the entry.");
    }

    // Every refusal names the entry that it is about.
    private static void Named(CheckedEntry entry, Action play)
    {
        var name = FormattableString.Invariant($"entries[{entry.Sequence - 1}]");
        try
        {
            play();
        }
        catch (InvalidEntryException e)
        {
            throw e.Within(name);
        }
        catch (NotInRecordException e)
        {
            throw new InvalidEntryException(name, e.Message);
        }
        catch (RuleViolationException e)
        {
            throw new RuleViolationException(e.Rule, $"Entry {entry.Sequence} ({entry.Event.EntryKind.Word}) is not possible at this point. {e.Message}", e.Places);
        }
    }
}
