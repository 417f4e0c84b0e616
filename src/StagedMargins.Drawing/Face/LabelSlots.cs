namespace StagedMargins.Drawing.Face;

/// <summary>
/// Where leaders cross the clock ring: 7 slots to an hour, none under a numeral, counted from 12 o'clock down either side.
/// </summary>
internal static class LabelSlots
{
    private const double SlotDegrees = 3;
    private const int SlotsInHour = 7;
    private const double FirstInHour = 6;
    private const int Last = (6 * SlotsInHour) - 1;

    /// <summary>Slots for directions, each its own and in the same order, as near to the directions as they may be.</summary>
    /// <param name="fromTwelve">Degrees away from 12 o'clock on one side, 0 to 180, ascending; at most 42.</param>
    internal static IReadOnlyList<int> For(IReadOnlyList<double> fromTwelve)
    {
        var slots = fromTwelve.Select(Nearest).ToArray();
        for (var i = 1; i < slots.Length; i++)
        {
            slots[i] = Math.Max(slots[i], slots[i - 1] + 1);
        }

        for (var i = slots.Length - 1; i >= 0; i--)
        {
            slots[i] = Math.Min(slots[i], i == slots.Length - 1 ? Last : slots[i + 1] - 1);
        }

        return slots;
    }

    /// <summary>Degrees of a slot away from 12 o'clock.</summary>
    internal static double DegreesOf(int slot) => (slot / SlotsInHour * 30) + FirstInHour + (slot % SlotsInHour * SlotDegrees);

    private static int Nearest(double fromTwelve)
    {
        var hour = Math.Clamp((int)(fromTwelve / 30), 0, 5);
        var inHour = (int)Math.Round((fromTwelve - (hour * 30) - FirstInHour) / SlotDegrees, MidpointRounding.AwayFromZero);
        return (hour * SlotsInHour) + Math.Clamp(inHour, 0, SlotsInHour - 1);
    }
}
