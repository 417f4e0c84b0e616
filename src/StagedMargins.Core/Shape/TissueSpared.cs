using NetTopologySuite.Operation.Buffer;
using StagedMargins.Core.Intake;

namespace StagedMargins.Core.Shape;

/// <summary>What a fixed margin around the lesion would have taken, beside what the layers took. For comparison only.</summary>
/// <param name="MarginMm">The published fixed margin for the tumour's risk, mm.</param>
/// <param name="FixedExcisionMm2">Area of the lesion widened by that margin, mm².</param>
/// <param name="SparedMm2">That area less the wound's, mm²; negative where the wound is larger.</param>
public sealed record TissueSpared(double MarginMm, double FixedExcisionMm2, double SparedMm2)
{
    /// <summary>Compares a wound with a fixed-margin excision; null where no size was taken or no margin is published for the tumour.</summary>
    public static TissueSpared? Of(CaseFacts facts, DefectSize defect)
    {
        if (facts.PreOperative is not { } lesion || FixedMarginMm(facts) is not { } margin)
        {
            return null;
        }

        var outline = new EllipseOutline(lesion.Length, lesion.Width, lesion.Axis).ToPolygon();
        var excision = BufferOp.Buffer(outline, margin, new BufferParameters(64)).Area;
        return new TissueSpared(margin, excision, excision - defect.AreaMm2);
    }

    /// <summary>
    /// The published fixed margin in mm, or null where none is known here. Basal cell: 4 mm below 20 mm, primary and well
    /// defined (Wolf and Zitelli, Arch Dermatol 1987;123:340–344), else 5 mm, the smaller of the 5–6 mm given for high risk
    /// (An Bras Dermatol 2015, PMC4516103), so that the tissue spared is not overstated. Squamous: 4 mm below 20 mm, well
    /// differentiated, off the sites of high risk (the area class as said, else as the site has it), without invasion of fat, else 6 mm (Brodland and Zitelli, J Am Acad Dermatol
    /// 1992;27:241–248). All read at second hand.
    /// </summary>
    public static double? FixedMarginMm(CaseFacts facts)
    {
        var tumour = facts.Tumour;
        var isSmall = facts.PreOperative is { } size && size.Largest().Micrometres < 20_000;
        if (tumour.IsBasalCell())
        {
            return isSmall && tumour.Recurrent != true && tumour.Border != TumourBorder.PoorlyDefined ? 4 : 5;
        }

        if (!tumour.IsSquamous())
        {
            return null;
        }

        var reachesFat = tumour.DeepestPlane >= Mapping.AnatomicalPlane.SubcutaneousFat;
        var isLowRisk = isSmall && tumour.Differentiation == Differentiation.Well && Sites.AreaOf(facts) != AreaClass.H && !reachesFat;
        return isLowRisk ? 4 : 6;
    }
}
