namespace StagedMargins.Core;

/// <summary>The caution that users are shown: on every map and page, in every document.</summary>
public static class Disclaimer
{
    /// <summary>In one line.</summary>
    public const string Text =
        "A record and a calculator for trained staff; not a diagnosis, not a medical device clearance. Decisions belong to licensed clinicians, local law and the clinic's own policy.";
}
