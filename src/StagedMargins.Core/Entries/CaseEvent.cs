using System.Text.Json.Serialization;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Entries;

/// <summary>Who wrote an entry, and when.</summary>
/// <param name="ById">A person of the clinic, or another system with a token of its own.</param>
/// <param name="At">When it was written.</param>
public readonly record struct Authorship(Guid ById, ClinicalTime At);

/// <summary>
/// What was decided and said in a case, as its entry keeps it. Each kind decides in one place what may be entered
/// (<c>Decide</c>, which may refuse) and what follows for the case (<see cref="Apply"/>, which never does, so that a stricter
/// rule of tomorrow can't make a case of today unreadable).
/// </summary>
public abstract record CaseEvent
{
    /// <summary>Its kind.</summary>
    [JsonIgnore]
    public CaseEntryKind EntryKind => (CaseEntryKind)EntryKinds.Of(GetType());

    /// <summary>The reviews that it raises; null for none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<RaisedReview>? Raised { get; init; }

    /// <summary>The same with the reviews that it raises.</summary>
    /// <param name="before">The case before it.</param>
    /// <param name="written">By whom, and when.</param>
    /// <param name="ids">The numbers of the reviews, where they were made before.</param>
    public CaseEvent WithReviews(SurgicalCase before, Authorship written, IReadOnlyList<RaisedReview>? ids = null)
    {
        RaisedReview[] raised =
        [
            .. ReviewRules.RaisedBy(before, this, before.Apply(this, written))
                .Select((review, i) => review with { Id = i < ids?.Count ? ids[i].Id : Guid.CreateVersion7(written.At.ToDateTimeOffset()) }),
        ];
        return raised.Length == 0 ? this : this with { Raised = raised };
    }

    /// <summary>What follows for the case. Never refuses.</summary>
    internal abstract SurgicalCase Apply(SurgicalCase state, Authorship written);

    /// <summary>What was done, as the history says it.</summary>
    /// <param name="before">The case before it.</param>
    /// <param name="nameOf">The name of someone it names.</param>
    public abstract string Sentence(SurgicalCase before, Func<Guid, string> nameOf);

    /// <summary>The same decided anew, as for an entry that comes from another record: equal to this one where nobody changed it.</summary>
    /// <param name="state">The case before it.</param>
    /// <param name="written">Who wrote it, and when.</param>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The rules of the record forbid it where it stands.</exception>
    /// <exception cref="NotInRecordException">It is about something that the case does not have.</exception>
    public abstract CaseEvent DecideAgain(SurgicalCase state, Authorship written);

    /// <summary>The same with the people it names known by other identifiers.</summary>
    /// <param name="here">The identifier here of someone there.</param>
    public virtual CaseEvent WithPeople(Func<Guid, Guid> here) => this;

    /// <summary>The people it names, apart from who wrote it.</summary>
    public virtual IEnumerable<Guid> NamedPeople() => [];
}

/// <summary>An entry that was decided for a case and is not stored yet.</summary>
/// <param name="Event">What was decided.</param>
/// <param name="Written">By whom, and when.</param>
public sealed record NewEntry(CaseEvent Event, Authorship Written);
