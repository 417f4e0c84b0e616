using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Risk;

/// <summary>Facts of a squamous tumour of the face with nothing that raises its category, to be changed where a test is about a fact.</summary>
internal static class SquamousTumour
{
    public static readonly CaseFacts Plain = Some.Facts("8070/3", Some.Lesion(19.9m, 10), differentiation: Differentiation.Well, deepestPlane: AnatomicalPlane.Dermis)
        .With(tumour => tumour with { Depth = Some.Mm(2), Perineural = new Perineural(false, null, null), Bone = BoneInvolvement.None });

    public static CaseFacts Sized(this CaseFacts facts, decimal mm) => facts with { PreOperative = Some.Lesion(mm, mm > 1 ? 1 : mm) };

    public static CaseFacts At(this CaseFacts facts, string site) => facts with { Site = Site.Of(site, null, null) };

    public static CaseFacts Nerve(this CaseFacts facts, decimal? calibreMm, bool? named = false, bool? deep = false) =>
        facts.With(tumour => tumour with { Perineural = new Perineural(true, calibreMm is { } mm ? Some.Mm(mm) : null, named, deep) });

    public static CaseFacts With(this CaseFacts facts, Func<Tumour, Tumour> change) => facts with { Tumour = change(facts.Tumour) };
}
