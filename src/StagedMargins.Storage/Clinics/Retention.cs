namespace StagedMargins.Storage.Clinics;

/// <summary>
/// How many years a clinic keeps what, counted from the last change of the record. The usual values are US federal minima for
/// laboratories, 42 CFR 493.1105: slides 10 years from examination, (a)(7)(i)(B), and pathology reports 10 years, (a)(6), both
/// second-hand with the paragraphs from memory; blocks 2 years from examination, (a)(7)(ii). An accreditor or a country may ask
/// for more, so each is the clinic's own setting.
/// </summary>
public sealed class Retention
{
    /// <summary>Years for slides where the clinic sets none.</summary>
    public const int UsualSlideYears = 10;

    /// <summary>Years for blocks where the clinic sets none.</summary>
    public const int UsualBlockYears = 2;

    /// <summary>Years for the record where the clinic sets none.</summary>
    public const int UsualRecordYears = 10;

    /// <summary>The fewest years that can be set.</summary>
    public const int Fewest = 1;

    /// <summary>The most years that can be set.</summary>
    public const int Most = 100;

    /// <summary>Years for slides.</summary>
    public int SlideYears { get; set; } = UsualSlideYears;

    /// <summary>Years for blocks.</summary>
    public int BlockYears { get; set; } = UsualBlockYears;

    /// <summary>Years for the record.</summary>
    public int RecordYears { get; set; } = UsualRecordYears;
}
