using StagedMargins.Core;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing.Documents;

/// <summary>What a printed record is made from.</summary>
/// <param name="Case">The case.</param>
/// <param name="Overlap">The clinic's overlap, for the target.</param>
/// <param name="Clinic">The clinic's name.</param>
/// <param name="NameOf">Who someone is; null where that is not known.</param>
/// <param name="Entries">Changes in the history, all of them checked.</param>
/// <param name="Fault">Which row is not as it was written, and why; null where the history is intact.</param>
/// <param name="PrintedAt">When it is printed, on the clinic's clock.</param>
public sealed record RecordPrint(
    SurgicalCase Case, Overlap Overlap, string Clinic, Func<Guid?, string?> NameOf, int Entries, string? Fault, ClinicalTime PrintedAt)
{
    /// <summary>Where the case came from, a sentence for each time it was imported.</summary>
    public IReadOnlyList<string> Origin { get; init; } = [];

    /// <summary>Someone's name, or that it is not known.</summary>
    internal string Who(Guid? id) => NameOf(id) ?? "not known";
}
