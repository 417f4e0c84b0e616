using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Intake;

/// <summary>A type of tumour.</summary>
/// <param name="Code">ICD-O-3 morphology with behaviour.</param>
public sealed record TumourType(string Code)
{
    /// <summary>Its name in words.</summary>
    public string Name => Terms.OfTumour(Code);
}

/// <summary>
/// The tumours offered at intake; any other code of the right form is taken too. Codes: ICD-O-3 morphology (WHO), from memory.
/// </summary>
public static class TumourTypes
{
    /// <summary>Verrucous carcinoma.</summary>
    public const string Verrucous = "8051/3";

    /// <summary>Every type offered, the commonest first.</summary>
    public static IReadOnlyList<TumourType> All { get; } =
    [
        new("8090/3"),
        new("8097/3"),
        new("8091/3"),
        new("8092/3"),
        new("8094/3"),
        new("8070/3"),
        new("8070/2"),
        new("8071/3"),
        new("8074/3"),
        new("8075/3"),
        new(Verrucous),
        new("8560/3"),
        new("8742/2"),
        new("8832/3"),
        new("8407/3"),
        new("8410/3"),
        new("8542/3"),
        new("8247/3"),
    ];

    /// <summary>The type of a code; null where it is none of the list, though it may be a good code.</summary>
    public static TumourType? Find(string code) => All.FirstOrDefault(type => type.Code == code);
}
