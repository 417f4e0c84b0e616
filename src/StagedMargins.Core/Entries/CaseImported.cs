using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>Everything so far was taken over from another record. It changes nothing but the version.</summary>
/// <param name="Sha256">SHA-256 of the file as it came, hexadecimal.</param>
/// <param name="Entries">How many entries were taken over from it.</param>
/// <param name="CaseNumberThere">The case's number where it came from.</param>
/// <param name="CaseNumber">The number it was given here.</param>
/// <param name="AccountsMade">Authors who were not known here, for whom closed accounts were made.</param>
public sealed record CaseImported(string Sha256, int Entries, string CaseNumberThere, string CaseNumber, IReadOnlyList<Guid> AccountsMade) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<CaseImported>("importCase", surgeonAlone: true, inPerson: true);

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => new CaseImported(
        FreeText.Required("sha256", Sha256, 64),
        Entries,
        SurgicalCase.CheckNumber(CaseNumberThere),
        SurgicalCase.CheckNumber(CaseNumber),
        AccountsMade);

    /// <inheritdoc/>
    public override CaseEvent WithPeople(Func<Guid, Guid> here) => this with { AccountsMade = [.. AccountsMade.Select(here)] };

    /// <inheritdoc/>
    public override IEnumerable<Guid> NamedPeople() => AccountsMade;

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryCaseImported(Entries, CaseNumberThere);

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { Import = this };
}
