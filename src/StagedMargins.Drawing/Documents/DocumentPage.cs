using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Documents;

/// <summary>A map on a page.</summary>
/// <param name="Scene">The map.</param>
/// <param name="Box">Where it stands, in points.</param>
public sealed record PlacedMap(MapScene Scene, SceneBox Box)
{
    /// <summary>Points to a unit of the scene.</summary>
    public double Scale => Box.Width / Scene.Width;
}

/// <summary>A page as shapes, before it is painted. Points, x to the right, y down, from the upper left corner.</summary>
/// <param name="Items">Words and lines.</param>
/// <param name="Maps">Maps.</param>
public sealed record DocumentPage(IReadOnlyList<SceneItem> Items, IReadOnlyList<PlacedMap> Maps)
{
    /// <summary>The words that stand on the page outside its maps.</summary>
    public IEnumerable<SceneText> Texts => Items.OfType<SceneText>();
}
