using System.Globalization;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Wording;

/// <summary>
/// Places on the clock face as people say them, so that none looks like a time of day: <c>7:30 to 9 o'clock</c> in a sentence,
/// <c>7:30–9:00 o'clock</c> in a table or beside the face. The API and the database have the text form <c>07:30</c> instead.
/// </summary>
public static class ClockWords
{
    /// <summary>A position, for example <c>7:30 o'clock</c>.</summary>
    public static string InSentence(this ClockPosition position) => Sentences.OClock(Spoken(position));

    /// <summary>An arc, for example <c>7:30 to 9 o'clock</c>.</summary>
    public static string InSentence(this ClockArc arc) => MarginRegion.Of(arc).InSentence();

    /// <summary>A region, for example <c>7:30 to 9 and 11 to 1 o'clock and the centre</c>; <c>all around</c>, <c>none</c>.</summary>
    public static string InSentence(this MarginRegion region) =>
        Words(region, Listed(region.Arcs, arc => Sentences.FromTo(Spoken(arc.From), Spoken(arc.To))), Sentences.And);

    /// <summary>An arc, for example <c>7:30–9:00 o'clock</c>.</summary>
    public static string InLabel(this ClockArc arc) => MarginRegion.Of(arc).InLabel();

    /// <summary>Arcs, for example <c>7:30–9:00, 11:00–1:00 o'clock</c>.</summary>
    /// <param name="arcs">At least one, of which none is the whole circle.</param>
    public static string InLabel(this IEnumerable<ClockArc> arcs) =>
        Sentences.OClock(string.Join(", ", arcs.Select(arc => $"{Digits(arc.From)}–{Digits(arc.To)}")));

    /// <summary>A region, for example <c>7:30–9:00, 11:00–1:00 o'clock, the centre</c>; <c>all around</c>, <c>none</c>.</summary>
    public static string InLabel(this MarginRegion region) => Words(region, region.Arcs.InLabel(), (arcs, centre) => $"{arcs}, {centre}");

    /// <summary>A margin with places on it, for example <c>peripheral margin, 7:30–9:00 o'clock</c>.</summary>
    public static string WithPlaces(this Margin margin, MarginRegion region) => Sentences.MarginPlaces(Terms.Of(margin), region.InLabel());

    /// <summary>What is not clear, for example <c>tumour outstanding at the peripheral margin, 7:30 to 9 o'clock</c>.</summary>
    public static string InSentence(this BlockingRegion blocking) => Sentences.At(
        blocking.Why == BlockingRegion.Unread ? Terms.Unread : Terms.Outstanding, Terms.Of(blocking.Margin), blocking.Region.InSentence());

    /// <summary>Places that stand in the way, one after the other.</summary>
    public static string InSentence(this IEnumerable<BlockingRegion> blocking) => string.Join("; ", blocking.Select(one => one.InSentence()));

    private static string Words(MarginRegion region, string arcs, Func<string, string, string> and)
    {
        var places = region.Arcs.IsFull ? Terms.AllAround : arcs;
        return (region.Arcs.IsEmpty, region.Centre) switch
        {
            (true, true) => Terms.Centre,
            (true, false) => Terms.None,
            (false, true) => and(places, Terms.Centre),
            _ => places,
        };
    }

    private static string Listed(ArcSet arcs, Func<ClockArc, string> words)
    {
        string[] each = [.. arcs.Select(words)];
        return Sentences.OClock(each.Length <= 1 ? string.Concat(each) : Sentences.And(string.Join(", ", each[..^1]), each[^1]));
    }

    // As it is said aloud: 9, not 9:00.
    private static string Spoken(ClockPosition position) => position.Minutes % 60 == 0 ? Hour(position).ToString(CultureInfo.InvariantCulture) : Digits(position);

    private static string Digits(ClockPosition position) => string.Create(CultureInfo.InvariantCulture, $"{Hour(position)}:{position.Minutes % 60:00}");

    private static int Hour(ClockPosition position) => position.Minutes / 60 is > 0 and var hour ? hour : 12;
}
