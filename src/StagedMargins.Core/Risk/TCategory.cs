namespace StagedMargins.Core.Risk;

/// <summary>A feature of a tumour that raises its T category.</summary>
public enum TFactor
{
    /// <summary>Largest diameter of 2 cm.</summary>
    TwoCentimetres,

    /// <summary>Largest diameter of 4 cm.</summary>
    FourCentimetres,

    /// <summary>Poorly differentiated.</summary>
    PoorDifferentiation,

    /// <summary>Perineural invasion as the system counts it.</summary>
    PerineuralInvasion,

    /// <summary>Deeper than 6 mm or beyond subcutaneous fat.</summary>
    DeepInvasion,

    /// <summary>Beyond subcutaneous fat.</summary>
    BeyondSubcutaneousFat,

    /// <summary>Minor erosion of bone.</summary>
    MinorBoneErosion,

    /// <summary>Invasion of bone.</summary>
    BoneInvasion,

    /// <summary>Gross invasion of cortical bone or marrow.</summary>
    GrossBoneInvasion,

    /// <summary>Invasion of the skull base.</summary>
    SkullBaseInvasion,
}

/// <summary>A fact that a T category asks for: named where it is not known and could raise the category, and where slides and intake differ.</summary>
public enum TFact
{
    /// <summary>The lesion's size before surgery.</summary>
    PreOperative,

    /// <summary>Differentiation.</summary>
    Differentiation,

    /// <summary>Whether there is perineural invasion.</summary>
    Perineural,

    /// <summary>The calibre of the nerve invaded.</summary>
    PerineuralCalibre,

    /// <summary>Whether the nerve lies deeper than the dermis.</summary>
    PerineuralDepth,

    /// <summary>Whether it is a named nerve.</summary>
    PerineuralNamed,

    /// <summary>The depth of invasion.</summary>
    DepthMm,

    /// <summary>The deepest plane invaded.</summary>
    DeepestPlane,

    /// <summary>Involvement of bone.</summary>
    Bone,
}

/// <summary>A T category with what produced it.</summary>
/// <param name="T">The category, for example <c>T2b</c>; null where the system does not apply, or what is known leaves it open.</param>
/// <param name="Factors">The factors that produced it.</param>
/// <param name="Applies">True where the system applies to the tumour and its site.</param>
/// <param name="Missing">Facts that are not known and could raise it.</param>
public sealed record TCategory(string? T, IReadOnlyList<TFactor> Factors, bool Applies, IReadOnlyList<TFact> Missing)
{
    /// <summary>The system says nothing about this tumour at this site.</summary>
    public static readonly TCategory NotApplicable = new(null, [], false, []);

    /// <summary>True where something that is not known could raise it: the true category is at least this one.</summary>
    public bool IsAtLeast() => Missing.Count > 0;
}

/// <summary>Which side of 2 and 4 cm a tumour of exactly that diameter stands on in AJCC 8. The published texts differ.</summary>
public enum SizeBoundary
{
    /// <summary>2 cm is T2 and 4 cm is T3: "less than 2 cm" is T1 (AJCC wording).</summary>
    BelongsAbove,

    /// <summary>2 cm is T1 and 4 cm is T2: "2 cm or less" is T1 (the inclusive wording of other prints).</summary>
    BelongsBelow,
}
