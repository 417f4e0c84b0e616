namespace StagedMargins.Core.Mapping;

/// <summary>The tissue plane that a wound reaches, from the surface down. The order is the order of depth.</summary>
public enum AnatomicalPlane
{
    /// <summary>Epidermis.</summary>
    Epidermis,

    /// <summary>Dermis.</summary>
    Dermis,

    /// <summary>Subcutaneous fat.</summary>
    SubcutaneousFat,

    /// <summary>Fascia.</summary>
    Fascia,

    /// <summary>Muscle.</summary>
    Muscle,

    /// <summary>Perichondrium.</summary>
    Perichondrium,

    /// <summary>Cartilage.</summary>
    Cartilage,

    /// <summary>Periosteum.</summary>
    Periosteum,

    /// <summary>Bone.</summary>
    Bone,
}
