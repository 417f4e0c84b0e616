namespace StagedMargins.Storage.People;

/// <summary>A one-time code that lets whoever holds it make a clinic with its first administrator.</summary>
public sealed class ClinicCode
{
    /// <summary>The hash of the code; see <see cref="OneTimeCode"/>.</summary>
    public string Hash { get; init; } = "";

    /// <summary>When it was made.</summary>
    public DateTime MadeUtc { get; init; }
}
