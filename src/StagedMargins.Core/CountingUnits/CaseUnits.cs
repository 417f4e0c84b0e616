using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.CountingUnits;

/// <summary>The group of body regions that a clinic's billing tells apart.</summary>
public enum RegionGroup
{
    /// <summary>Head, neck, hands, feet or genitalia; or any site where muscle, cartilage or bone is directly involved.</summary>
    HeadNeckHandsFeetGenitalia,

    /// <summary>Trunk, arms or legs.</summary>
    TrunkArmsLegs,
}

/// <summary>A unit that is counted.</summary>
public enum CountingUnit
{
    /// <summary>The first stage of a case.</summary>
    FirstStage,

    /// <summary>A further stage.</summary>
    FurtherStage,

    /// <summary>A block beyond the fifth of its stage.</summary>
    BlockBeyondFive,
}

/// <summary>The counting units of one case.</summary>
/// <param name="RegionGroup">The group of its body region; null where the case does not decide it, so that a person must.</param>
/// <param name="FirstStages">1, or 0 before any layer.</param>
/// <param name="FurtherStages">Stages after the first.</param>
/// <param name="BlocksBeyondFive">Blocks beyond the fifth of their stage, each stage on its own.</param>
public sealed record CaseUnits(RegionGroup? RegionGroup, int FirstStages, int FurtherStages, int BlocksBeyondFive)
{
    /// <summary>Blocks of a stage that its own unit includes.</summary>
    public const int BlocksIncluded = 5;

    private static readonly AnatomicalPlane[] StructuresBeneath =
        [AnatomicalPlane.Muscle, AnatomicalPlane.Perichondrium, AnatomicalPlane.Cartilage, AnatomicalPlane.Periosteum, AnatomicalPlane.Bone];

    /// <summary>Counts the units of a case.</summary>
    public static CaseUnits Of(SurgicalCase surgicalCase) => Of(GroupOf(surgicalCase.Facts), [.. surgicalCase.Stages.Select(stage => stage.Blocks.Count)]);

    /// <summary>Counts the units of stages with so many blocks each.</summary>
    public static CaseUnits Of(RegionGroup? group, IReadOnlyList<int> blocksOfStages) => new(
        group,
        Math.Min(1, blocksOfStages.Count),
        Math.Max(0, blocksOfStages.Count - 1),
        blocksOfStages.Sum(blocks => Math.Max(0, blocks - BlocksIncluded)));

    /// <summary>How many there are of a unit.</summary>
    public int CountOf(CountingUnit unit) => unit switch
    {
        CountingUnit.FirstStage => FirstStages,
        CountingUnit.FurtherStage => FurtherStages,
        _ => BlocksBeyondFive,
    };

    /// <summary>
    /// The region group from what intake knows: depth over site, then the site's ICD-O-3 code, then for codes that hold both groups
    /// the area class (high-risk skin of the upper limb is the hand; low and medium risk never lies on hand, foot or genitalia).
    /// </summary>
    public static RegionGroup? GroupOf(CaseFacts facts) => facts switch
    {
        { Tumour.DeepestPlane: { } plane } when StructuresBeneath.Contains(plane) => CountingUnits.RegionGroup.HeadNeckHandsFeetGenitalia,
        { Tumour.Bone: not null and not BoneInvolvement.None } => CountingUnits.RegionGroup.HeadNeckHandsFeetGenitalia,
        { Site.Code: "C44.0" or "C44.1" or "C44.2" or "C44.3" or "C44.4" } => CountingUnits.RegionGroup.HeadNeckHandsFeetGenitalia,
        { Site.Code: var code } when code.StartsWith("C00", StringComparison.Ordinal) || code.StartsWith("C51", StringComparison.Ordinal)
            || code.StartsWith("C60", StringComparison.Ordinal) || code == "C63.2" => CountingUnits.RegionGroup.HeadNeckHandsFeetGenitalia,
        { Site.Code: "C44.6", AreaClass: AreaClass.H } => CountingUnits.RegionGroup.HeadNeckHandsFeetGenitalia,
        { Site.Code: "C44.5" or "C44.6" or "C44.7", AreaClass: AreaClass.M or AreaClass.L } => CountingUnits.RegionGroup.TrunkArmsLegs,
        _ => null,
    };
}
