using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>What a printed record is made from.</summary>
/// <param name="Case">The case.</param>
/// <param name="Overlap">The clinic's overlap, for the target.</param>
/// <param name="Boundary">The clinic's setting for exactly 2 and 4 cm.</param>
/// <param name="Clinic">The clinic's name.</param>
/// <param name="NameOf">Who someone is; null where that is not known.</param>
/// <param name="Entries">Changes in the history, all of them checked.</param>
/// <param name="Fault">Which row is not as it was written, and why; null where the history is intact.</param>
/// <param name="PrintedAt">When it is printed, on the clinic's clock.</param>
public sealed record RecordPrintout(
    SurgicalCase Case, Overlap Overlap, SizeBoundary Boundary, string Clinic, Func<Guid?, string?> NameOf, int Entries, string? Fault, ClinicalTime PrintedAt)
{
    /// <summary>Where the case came from, a sentence for each time it was imported.</summary>
    public IReadOnlyList<string> Origin { get; init; } = [];

    /// <summary>Number and seal of its last entry in the ledger, by which the paper can be compared with the record; null where it is not known.</summary>
    public string? LastSeal { get; init; }

    /// <summary>That the case is printed as it was known at a moment, in words; null where it is printed as it is now.</summary>
    public string? AsOf { get; init; }

    /// <summary>Wound and margins after each stage, computed once for all maps.</summary>
    internal StageSeries Series => field ??= new StageSeries(Case.Stages, Overlap);

    /// <summary>A map of the case for a page.</summary>
    internal MapScene MapOf(int stage, bool cumulative) => MapScene.Of(new MapRequest(Case, Overlap, stage, cumulative, false) { InDocument = true, AsOf = AsOf }, Series);

    /// <summary>Someone's name, or that it is not known.</summary>
    internal string Who(Guid? id) => NameOf(id) ?? "not known";
}
