namespace StagedMargins.Web.Contract;

/// <summary>Addresses of pages that other things point to: a label, a link.</summary>
internal static class PageAddresses
{
    /// <summary>Where a block is marked, below the root. No patient data.</summary>
    internal static string MarkBlock(Guid caseId, int stage, string label) => FormattableString.Invariant($"cases/{caseId}/stages/{stage}/mark?block={Uri.EscapeDataString(label)}");
}
