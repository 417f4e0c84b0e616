using System.Collections.Frozen;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing;

/// <summary>
/// Every colour of the maps. Red for tumour is common practice of the trade, no source; the others are chosen here. None carries
/// a meaning alone: each sign has a pattern or a word as well, so that a map survives black-and-white print.
/// </summary>
internal static class Palette
{
    internal static readonly SceneColour Paper = SceneColour.FromRgb(0xFFFFFF);
    internal static readonly SceneColour Black = SceneColour.FromRgb(0x000000);
    internal static readonly SceneColour Text = SceneColour.FromRgb(0x1C2733);
    internal static readonly SceneColour Muted = SceneColour.FromRgb(0x4F5D6B);
    internal static readonly SceneColour Hairline = SceneColour.FromRgb(0xC3CBD3);
    internal static readonly SceneColour Dial = SceneColour.FromRgb(0xF4F6F8);

    internal static readonly SceneColour Tumour = SceneColour.FromRgb(0xB8121B);
    internal static readonly SceneColour TumourTint = SceneColour.FromRgb(0xFBD5D2);
    internal static readonly SceneColour Warning = SceneColour.FromRgb(0x8F5400);
    internal static readonly SceneColour WarningTint = SceneColour.FromRgb(0xFFE3A6);
    internal static readonly SceneColour Unread = SceneColour.FromRgb(0x34424F);
    internal static readonly SceneColour UnreadTint = SceneColour.FromRgb(0xFFFFFF);
    internal static readonly SceneColour Target = SceneColour.FromRgb(0x0B5F66);
    internal static readonly SceneColour TargetTint = SceneColour.FromRgb(0xD3EDEB);
    internal static readonly SceneColour Clear = SceneColour.FromRgb(0x1F6B3A);

    internal static readonly SceneColour Wound = SceneColour.FromRgb(0x3C3326);
    internal static readonly SceneColour LayerBorder = SceneColour.FromRgb(0x8C7D68);

    private static readonly SceneColour[] LayerTints = [SceneColour.FromRgb(0xF5EFE4), SceneColour.FromRgb(0xE6D9C3)];

    // Inks of the bench under their English names: common practice, no source. Another name is shown in words alone.
    private static readonly FrozenDictionary<string, SceneColour> Inks = new Dictionary<string, SceneColour>
    {
        ["blue"] = SceneColour.FromRgb(0x2457C5),
        ["red"] = SceneColour.FromRgb(0xD62828),
        ["green"] = SceneColour.FromRgb(0x2E9E4F),
        ["yellow"] = SceneColour.FromRgb(0xF7D21E),
        ["black"] = SceneColour.FromRgb(0x111111),
        ["orange"] = SceneColour.FromRgb(0xF28C1B),
        ["violet"] = SceneColour.FromRgb(0x7B3FA0),
        ["purple"] = SceneColour.FromRgb(0x7B3FA0),
        ["brown"] = SceneColour.FromRgb(0x7A4B25),
        ["white"] = SceneColour.FromRgb(0xFFFFFF),
        ["pink"] = SceneColour.FromRgb(0xF19ABF),
        ["grey"] = SceneColour.FromRgb(0x8A8F94),
        ["gray"] = SceneColour.FromRgb(0x8A8F94),
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>Neighbouring layers differ.</summary>
    internal static SceneColour Layer(int stage) => LayerTints[(stage - 1) % LayerTints.Length];

    /// <summary>The colour of an ink, or null for a name not known here.</summary>
    internal static SceneColour? Ink(string name) => Inks.TryGetValue(name.Trim(), out var colour) ? colour : null;
}
