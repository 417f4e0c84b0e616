using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Risk;

/// <summary>A fact of which the slides show more than intake says. Both are shown, and the higher category holds until someone corrects the facts.</summary>
/// <param name="Fact">Which.</param>
/// <param name="Intake">What intake says, in words.</param>
/// <param name="Slides">What the slides show, in words.</param>
public sealed record RiskConflict(TFact Fact, string Intake, string Slides)
{
    internal static RiskConflict OfNerve => new(TFact.Perineural, Terms.No, Terms.Yes);

    internal static RiskConflict OfNerveDepth => new(TFact.PerineuralDepth, Terms.No, Terms.Yes);

    internal static RiskConflict OfBone => new(TFact.Bone, Terms.Of(BoneInvolvement.None), Terms.Of(AnatomicalPlane.Bone));

    internal static RiskConflict OfCalibre(Length? intake, Length? slides) => new(TFact.PerineuralCalibre, $"{intake}", $"{slides}");

    internal static RiskConflict OfPlane(AnatomicalPlane? intake, AnatomicalPlane? slides) => new(TFact.DeepestPlane, Word(intake), Word(slides));

    /// <summary>The fact with both in a sentence.</summary>
    public string InWords() => Sentences.SlidesAgainstIntake(Terms.Of(Fact).Capitalised(), Intake, Slides);

    private static string Word(AnatomicalPlane? plane) => plane is { } known ? Terms.Of(known) : "";
}
