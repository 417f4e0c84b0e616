namespace StagedMargins.Core.Entries.Clinics;

/// <summary>What was done to a clinic, as its entry keeps it.</summary>
public abstract record ClinicEvent : PlainEvent
{
    /// <summary>What follows for the clinic. Never refuses.</summary>
    public abstract ClinicState Apply(ClinicState state);

    /// <summary>A kind of entry about a clinic.</summary>
    internal static EntryKind For<T>(string word, int form = 1)
        where T : ClinicEvent => new(EntrySubjects.Clinic, word, form, typeof(T));
}
