namespace StagedMargins.Web.AccessLog;

/// <summary>Whether a route shows a case, where that does not follow from its method.</summary>
/// <param name="Shows">True where it does.</param>
public sealed record ShowsCase(bool Shows);
