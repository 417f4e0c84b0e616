using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>What the readings that count show of the tumour itself. Margins that show less than intake says contradict nothing: the rest of the tumour is elsewhere.</summary>
/// <param name="Perineural">True where a nerve is invaded.</param>
/// <param name="NerveCalibre">Calibre of the largest nerve, where one was measured.</param>
/// <param name="NerveDeeperThanDermis">True where a nerve is invaded at the floor of a piece that reaches deeper than the dermis.</param>
/// <param name="DeepestPlane">The deepest plane at which tumour was seen at the floor: that of the piece it was cut from. A plane without tumour says nothing.</param>
public sealed record SlideEvidence(bool Perineural, Length? NerveCalibre, bool NerveDeeperThanDermis, AnatomicalPlane? DeepestPlane)
{
    /// <summary>Before any slide.</summary>
    public static readonly SlideEvidence None = new(false, null, false, null);

    /// <summary>What the slides of a case show.</summary>
    public static SlideEvidence Of(SurgicalCase surgicalCase)
    {
        var positive =
            (from stage in surgicalCase.Stages
             from block in stage.Blocks
             from finding in block.CountingReading?.Findings ?? []
             where finding.IsPositive()
             select (Finding: finding, Plane: finding.Margin == Margin.Deep ? stage.PieceOf(block).Plane : null)).ToList();
        var nerves = positive.Where(seen => seen.Finding.Kind == FindingKind.PerineuralInvasion).ToList();
        return new SlideEvidence(
            nerves.Count > 0,
            nerves.Max(seen => seen.Finding.Calibre),
            nerves.Any(seen => seen.Plane > AnatomicalPlane.Dermis),
            positive.Max(seen => seen.Plane));
    }

    /// <summary>The facts with what the slides show beyond them.</summary>
    public CaseFacts Over(CaseFacts facts)
    {
        var tumour = facts.Tumour;
        return facts with
        {
            Tumour = tumour with
            {
                Perineural = Perineural ? NerveOver(tumour.Perineural) : tumour.Perineural,
                DeepestPlane = IsDeeperThan(tumour.DeepestPlane) ? DeepestPlane : tumour.DeepestPlane,
            },
        };
    }

    /// <summary>Where the slides show more than intake says.</summary>
    public IReadOnlyList<RiskConflict> Against(CaseFacts facts)
    {
        var (nerve, plane, bone) = (facts.Tumour.Perineural, facts.Tumour.DeepestPlane, facts.Tumour.Bone);
        return
        [
            .. TumourRules.OnlyWhere(
                (RiskConflict.OfNerve, Perineural && nerve is { Present: false }),
                (RiskConflict.OfCalibre(nerve?.CalibreMm, NerveCalibre), nerve is { Present: true, CalibreMm: not null } && IsWiderThan(nerve.CalibreMm)),
                (RiskConflict.OfNerveDepth, NerveDeeperThanDermis && nerve is { Present: true, DeeperThanDermis: false }),
                (RiskConflict.OfPlane(plane, DeepestPlane), plane is not null && IsDeeperThan(plane)),
                (RiskConflict.OfBone, DeepestPlane == AnatomicalPlane.Bone && bone == BoneInvolvement.None)),
        ];
    }

    private Perineural NerveOver(Perineural? known) => new(
        true,
        IsWiderThan(known?.CalibreMm) ? NerveCalibre : known?.CalibreMm,
        known is { Present: true } ? known.Named : null,
        NerveDeeperThanDermis ? true : known is { Present: true } ? known.DeeperThanDermis : null);

    private bool IsDeeperThan(AnatomicalPlane? known) => DeepestPlane is { } seen && !(known >= seen);

    private bool IsWiderThan(Length? known) => NerveCalibre is { } seen && (known is null || seen > known);
}
