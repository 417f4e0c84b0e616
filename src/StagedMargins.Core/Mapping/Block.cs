using System.Text.RegularExpressions;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>A block as it is handed in.</summary>
/// <param name="Label">A letter, or a letter with up to three more letters or digits; unique in its stage.</param>
/// <param name="Arc">The clock arc it covers; null when it holds the centre of the floor alone.</param>
/// <param name="Centre">True where it includes the middle of the floor.</param>
/// <param name="FromInk">Ink on the edge where its arc begins.</param>
/// <param name="ToInk">Ink on the edge where its arc ends.</param>
/// <param name="PieceNumber">The piece it was cut from, counted from 1 as recorded; needed only where more than one piece could hold it.</param>
/// <param name="Shows">Which margins its sections show.</param>
/// <param name="Mirrored">True where its slides show the mirror image.</param>
/// <param name="Cassette">The cassette that it shares with blocks embedded together with it.</param>
/// <param name="Replaces">Blocks of its stage whose tissue was embedded again in this one.</param>
public sealed record BlockEntry(
    string Label,
    ClockArc? Arc,
    bool Centre,
    string? FromInk,
    string? ToInk,
    int? PieceNumber = null,
    ShownMargins Shows = ShownMargins.Both,
    bool Mirrored = false,
    string? Cassette = null,
    IReadOnlyList<string>? Replaces = null)
{
    /// <summary>The place it covers, whichever margins it has there.</summary>
    public MarginRegion Region() => MarginRegion.Of(Arc, Centre);

    /// <summary>The same, checked apart from the tissue it lies on.</summary>
    /// <exception cref="InvalidEntryException">Its label, place or ink can't be right.</exception>
    internal BlockEntry Checked()
    {
        if (Label is null || !Block.LabelForm().IsMatch(Label))
        {
            throw new InvalidEntryException("label", "A block's label is a letter, with up to three more letters or digits: A, B, … Z, AA, A1.");
        }

        if (Arc is null && !Centre)
        {
            throw new InvalidEntryException("arc", "A block must cover a clock arc, the centre, or both.");
        }

        if (Cassette is not null && !Block.CassetteForm().IsMatch(Cassette))
        {
            throw new InvalidEntryException("cassette", "A cassette's label is 1 to 20 letters, digits and hyphens, beginning with a letter or digit.");
        }

        if (Replaces?.Count > RecordLimits.Blocks || Replaces?.Any(label => !Block.LabelForm().IsMatch(label) || Block.IsSameLabel(label, Label)) == true)
        {
            throw new InvalidEntryException("replaces", "A block replaces other blocks of its stage, each named once.");
        }

        return this with
        {
            FromInk = FreeText.Optional("fromInk", FromInk, Block.LongestInk),
            ToInk = FreeText.Optional("toInk", ToInk, Block.LongestInk),
        };
    }
}

/// <summary>A part of a piece that is embedded and sectioned on its own, with its readings.</summary>
public sealed partial record Block
{
    private readonly RecordedBlock block;

    internal Block(RecordedBlock block, int ordinal, Authorship written)
    {
        (Label, Arc, Centre, PieceNumber, Ordinal) = (block.Label, block.Arc, block.Centre, block.PieceNumber, ordinal);
        (this.block, RecordedById, RecordedAt) = (block, written.ById, written.At);
    }

    /// <summary>The longest name of an ink, in characters.</summary>
    public const int LongestInk = 30;

    /// <summary>The longest label, in characters.</summary>
    public const int LongestLabel = 4;

    /// <summary>True where two labels can't be told apart on a slide: a and A are one.</summary>
    internal static bool IsSameLabel(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    /// <summary>The block as its entry holds it.</summary>
    internal RecordedBlock Recorded => block;

    /// <summary>Its label, unique in its stage.</summary>
    public string Label { get; }

    /// <summary>Its place among the blocks of the stage, from 1.</summary>
    public int Ordinal { get; internal init; }

    /// <summary>The clock arc it covers, from its first inked edge to its second; null when it holds the centre alone.</summary>
    public ClockArc? Arc { get; }

    /// <summary>True where it includes the middle of the floor.</summary>
    public bool Centre { get; }

    /// <summary>Ink on the edge where the arc begins.</summary>
    public string? FromInk => block.FromInk?.Text;

    /// <summary>Ink on the edge where the arc ends.</summary>
    public string? ToInk => block.ToInk?.Text;

    /// <summary>The piece it was cut from, counted from 1.</summary>
    public int PieceNumber { get; }

    /// <summary>Which margins its sections show.</summary>
    public ShownMargins Shows => block.Shows;

    /// <summary>True where its slides show the mirror image, as when tissue is embedded face down.</summary>
    public bool Mirrored => block.Mirrored;

    /// <summary>The cassette that it shares with blocks embedded together with it; null where it has one of its own.</summary>
    public string? Cassette => block.Cassette;

    /// <summary>Blocks of its stage whose tissue was embedded again in this one.</summary>
    public IReadOnlyList<string> Replaces => block.Replaces ?? [];

    /// <summary>Who recorded it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was recorded.</summary>
    public ClinicalTime RecordedAt { get; }

    /// <summary>All readings, in the order they were written.</summary>
    public IReadOnlyList<Reading> Readings { get; internal init; } = [];

    /// <summary>The reading that counts: the last one, unless it was withdrawn. Null where there is none; a withdrawal revives no earlier one.</summary>
    public Reading? CountingReading => Readings is [.., { Withdrawal: null } last] ? last : null;

    /// <summary>What permanent sections and second reads showed of it, the last word of each.</summary>
    public IReadOnlyList<BlockEvidence> Evidence { get; internal init; } = [];

    /// <summary>True where the counting reading saw the margin.</summary>
    public bool IsAdequate => CountingReading is { IsAdequate: true };

    /// <summary>The place it covers, whichever margins it has there.</summary>
    public MarginRegion Region() => MarginRegion.Of(Arc, Centre);

    /// <summary>The same with every reading withdrawn.</summary>
    internal Block WithReadingsWithdrawn(Withdrawal withdrawal) => this with { Readings = [.. Readings.Select(reading => reading.Withdrawal is null ? reading with { Withdrawal = withdrawal } : reading)] };

    /// <summary>The reading that amends another, or null.</summary>
    public Reading? AmendmentOf(Reading reading) => Readings.FirstOrDefault(other => other.AmendsId == reading.Id);

    [GeneratedRegex(@"^[A-Za-z0-9][A-Za-z0-9-]{0,19}\z", RegexOptions.CultureInvariant)]
    internal static partial Regex CassetteForm();

    [GeneratedRegex(@"^[A-Za-z][A-Za-z0-9]{0,3}\z", RegexOptions.CultureInvariant)]
    internal static partial Regex LabelForm();
}
