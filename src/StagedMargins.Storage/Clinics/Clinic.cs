using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Storage.Clinics;

/// <summary>A clinic and its settings.</summary>
public sealed class Clinic
{
    /// <summary>Its own number.</summary>
    public Guid Id { get; set; }

    /// <summary>Its name.</summary>
    public string Name { get; set; } = "";

    /// <summary>Its time zone, by IANA name.</summary>
    public string TimeZone { get; set; } = "UTC";

    /// <summary>How far the next layer reaches past the tumour on each side, clock minutes.</summary>
    public int OverlapMinutes { get; set; } = Overlap.UsualMinutes;

    /// <summary>On which side of 2 and 4 cm a tumour of exactly that diameter stands in AJCC 8.</summary>
    public SizeBoundary SizeBoundary { get; set; }

    /// <summary>True where the slides of a block that says nothing show the mirror image.</summary>
    public bool MirroredBlocks { get; set; }

    /// <summary>How long it keeps what.</summary>
    public Retention Retention { get; set; } = new();

    /// <summary>The overlap as the rules take it.</summary>
    public Overlap Overlap => new(OverlapMinutes);

    /// <summary>Now, as the clinic's clock shows it.</summary>
    public ClinicalTime Now(TimeProvider clock) => At(clock.GetUtcNow());

    /// <summary>A moment, as the clinic's clock shows it.</summary>
    public ClinicalTime At(DateTimeOffset moment) => ClinicalTime.From(TimeZoneInfo.ConvertTime(moment, TimeZoneInfo.FindSystemTimeZoneById(TimeZone)));
}

/// <summary>The last case number that was made in a year.</summary>
public sealed class CaseNumberCounter
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>The year.</summary>
    public int Year { get; set; }

    /// <summary>The last number given.</summary>
    public int Last { get; set; }
}
