using System.Text.Json.Serialization;

namespace StagedMargins.Core.Entries;

/// <summary>What was done to a subject and holds no words about a patient, as its entry keeps it.</summary>
public abstract record PlainEvent
{
    /// <summary>Its kind.</summary>
    [JsonIgnore]
    public EntryKind EntryKind => EntryKinds.Of(GetType());
}
