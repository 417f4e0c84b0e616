using System.Text.Json.Serialization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Entries.Clinics;

/// <summary>The settings of a clinic, as they hold from an entry on.</summary>
/// <param name="Name">Its name.</param>
/// <param name="TimeZone">Its time zone, by IANA name.</param>
/// <param name="Overlap">How far the next layer reaches past the tumour on each side.</param>
/// <param name="SizeBoundary">On which side of 2 and 4 cm a tumour of exactly that diameter stands in AJCC 8.</param>
/// <param name="SlideYears">How long it keeps slides.</param>
/// <param name="BlockYears">How long it keeps blocks.</param>
/// <param name="RecordYears">How long it keeps the record.</param>
/// <param name="MirroredBlocks">True where the slides of a block that says nothing show the mirror image.</param>
public sealed record ClinicSettings(
    string Name,
    string TimeZone,
    Overlap Overlap,
    SizeBoundary SizeBoundary,
    int SlideYears,
    int BlockYears,
    int RecordYears,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] bool MirroredBlocks = false);
