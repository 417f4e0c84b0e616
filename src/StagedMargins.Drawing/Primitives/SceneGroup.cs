using StagedMargins.Core.ClockFace;

namespace StagedMargins.Drawing.Primitives;

/// <summary>What a group of shapes on a map means.</summary>
public enum SceneRole
{
    /// <summary>Case number, which map it is, when the layer was taken.</summary>
    Heading,

    /// <summary>The clinic's number for the patient; only where it was asked for.</summary>
    PatientRef,

    /// <summary>Where the margins stand, in words.</summary>
    State,

    /// <summary>An alert of the stage.</summary>
    Alert,

    /// <summary>The recall flag.</summary>
    Recall,

    /// <summary>How the case ended.</summary>
    Ending,

    /// <summary>Any other thing to know: readings to be countersigned, later stages.</summary>
    Notice,

    /// <summary>Where 12 o'clock points, in words.</summary>
    Orientation,

    /// <summary>The name of the view: patient or slide.</summary>
    View,

    /// <summary>The ring of the clock face with its ticks.</summary>
    ClockFace,

    /// <summary>A numeral of the clock face.</summary>
    Numeral,

    /// <summary>That no layer was taken.</summary>
    NoLayer,

    /// <summary>The tissue that one stage took.</summary>
    Layer,

    /// <summary>The outline of the defect, to scale.</summary>
    Outline,

    /// <summary>The cut lines of a block.</summary>
    CutLine,

    /// <summary>The label of a block.</summary>
    BlockLabel,

    /// <summary>An inked edge of a block.</summary>
    Ink,

    /// <summary>The name of an ink beside its edge.</summary>
    InkName,

    /// <summary>Tissue whose margin was not adequately seen.</summary>
    Unread,

    /// <summary>Inflammation, which may hide tumour.</summary>
    Inflammation,

    /// <summary>Tumour that no later layer has taken.</summary>
    Outstanding,

    /// <summary>What the next layer should take.</summary>
    Target,

    /// <summary>A mark in numbers, or a stage, named beside the clock face, with its leader line.</summary>
    SideLabel,

    /// <summary>The scale bar.</summary>
    ScaleBar,

    /// <summary>Size of the defect.</summary>
    DefectSize,

    /// <summary>The key: every sign on the map, with its places in numbers.</summary>
    Key,

    /// <summary>The stage's blocks as a table.</summary>
    BlockTable,

    /// <summary>The layers as a table.</summary>
    LayerTable,

    /// <summary>The caution at the foot of every map.</summary>
    DisclaimerLine,
}

/// <summary>Which part of the wound a mark lies on.</summary>
public enum MarkPlace
{
    /// <summary>The outer edge: the peripheral margin.</summary>
    Peripheral,

    /// <summary>The floor, under an hour: the deep margin.</summary>
    Deep,

    /// <summary>The middle of the floor.</summary>
    Centre,
}

/// <summary>Shapes that mean one thing together.</summary>
/// <param name="Role">What they mean.</param>
/// <param name="Name">The same in a few words, for example <c>Tumour, edge 07:30–09:00</c>.</param>
/// <param name="Items">The shapes, painted in order.</param>
public sealed record SceneGroup(SceneRole Role, string Name, IReadOnlyList<SceneItem> Items)
{
    /// <summary>Where a mark lies; null for what is no mark.</summary>
    public MarkPlace? Place { get; init; }

    /// <summary>The clock arc that it covers; null for the centre and for what has none.</summary>
    public ClockArc? Arc { get; init; }

    /// <summary>The texts in the group.</summary>
    public IEnumerable<SceneText> Texts => Items.OfType<SceneText>();

    /// <summary>The paths in the group.</summary>
    public IEnumerable<ScenePath> Paths => Items.OfType<ScenePath>();
}
