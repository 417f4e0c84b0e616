namespace StagedMargins.Web.Problems;

/// <summary>Someone is not who they say, or has not shown it yet.</summary>
/// <param name="type">A stable word for what is missing.</param>
/// <param name="message">What to do.</param>
public sealed class NotSignedInException(string type, string message) : Exception(message)
{
    /// <summary>A stable word for what is missing.</summary>
    public string Type { get; } = type;

    /// <summary>The one refusal for an unknown address, a wrong password and a closed account, which must not be told apart.</summary>
    public static NotSignedInException Wrong() => new("notSignedIn", "Wrong e-mail address or password. After ten failures an e-mail address is blocked for five minutes.");

    /// <summary>The refusal of a sign-in that has ended.</summary>
    public static NotSignedInException Ended() => new("sessionEnded", "This sign-in can't be renewed; sign in again.");
}

/// <summary>Tries are held back for a while.</summary>
/// <param name="wait">How long.</param>
public sealed class TooManyTriesException(TimeSpan wait) : Exception("Too many failed sign-ins. Wait and try again.")
{
    /// <summary>Whole seconds until another try is looked at, at least 1.</summary>
    public int WaitSeconds { get; } = Math.Max(1, (int)Math.Ceiling(wait.TotalSeconds));
}
