namespace StagedMargins.Core.Intake;

/// <summary>A type of tumour.</summary>
/// <param name="Code">ICD-O-3 morphology with behaviour.</param>
/// <param name="Name">Its name in words.</param>
public sealed record TumourType(string Code, string Name);

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
        new("8090/3", "basal cell carcinoma"),
        new("8097/3", "basal cell carcinoma, nodular"),
        new("8091/3", "basal cell carcinoma, superficial"),
        new("8092/3", "basal cell carcinoma, infiltrating"),
        new("8094/3", "basosquamous carcinoma"),
        new("8070/3", "squamous cell carcinoma"),
        new("8070/2", "squamous cell carcinoma in situ"),
        new("8071/3", "squamous cell carcinoma, keratinizing"),
        new("8074/3", "squamous cell carcinoma, spindle cell"),
        new("8075/3", "squamous cell carcinoma, acantholytic"),
        new(Verrucous, "verrucous carcinoma"),
        new("8560/3", "adenosquamous carcinoma"),
        new("8742/2", "lentigo maligna"),
        new("8832/3", "dermatofibrosarcoma protuberans"),
        new("8407/3", "microcystic adnexal carcinoma"),
        new("8410/3", "sebaceous carcinoma"),
        new("8542/3", "extramammary Paget disease"),
        new("8247/3", "Merkel cell carcinoma"),
    ];
}
