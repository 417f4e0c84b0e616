namespace StagedMargins.Core.Entries.Accounts;

/// <summary>What was done to someone's account, as its entry keeps it.</summary>
public abstract record AccountEvent : PlainEvent
{
    /// <summary>What follows for the account. Never refuses.</summary>
    public abstract AccountState Apply(AccountState state);

    /// <summary>A kind of entry about an account.</summary>
    internal static EntryKind For<T>(string word, int form = 1)
        where T : AccountEvent => new(EntrySubjects.Person, word, form, typeof(T));
}
