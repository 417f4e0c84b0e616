namespace StagedMargins.Core.Mapping;

/// <summary>How long each step of a stage took, in whole minutes. A step whose ends are not both known, or out of order, is null.</summary>
/// <param name="ToReceived">From the layer taken to the tissue received at the bench.</param>
/// <param name="ToSlidesReady">From received to the slides ready.</param>
/// <param name="ToRead">From the slides ready to the last block adequately read.</param>
/// <param name="Whole">From the layer taken to the last block adequately read.</param>
/// <param name="ReadAt">When the last block was first adequately read; null while one is not.</param>
/// <param name="OutOfOrder">True where the times entered contradict each other, so that one of them is wrong.</param>
public sealed record Turnaround(int? ToReceived, int? ToSlidesReady, int? ToRead, int? Whole, ClinicalTime? ReadAt, bool OutOfOrder)
{
    /// <summary>The turnaround of a stage.</summary>
    public static Turnaround Of(Stage stage)
    {
        var (received, ready, read) = (stage.TimeOf(StageMoment.Received), stage.TimeOf(StageMoment.SlidesReady), ReadAtOf(stage));
        DateTime[] known = [.. new[] { stage.TakenAt, received, ready, read }.OfType<ClinicalTime>().Select(time => time.Utc)];
        return new Turnaround(
            Minutes(stage.TakenAt, received),
            Minutes(received, ready),
            Minutes(ready, read),
            Minutes(stage.TakenAt, read),
            read,
            !known.Order().SequenceEqual(known));
    }

    private static ClinicalTime? ReadAtOf(Stage stage)
    {
        var firsts = stage.Blocks.Select(block => block.Readings.Where(reading => reading.IsAdequate).Select(reading => (ClinicalTime?)reading.ReadAt).FirstOrDefault()).ToList();
        return firsts.Count == 0 || firsts.Contains(null) ? null : firsts.MaxBy(time => time!.Value.Utc);
    }

    private static int? Minutes(ClinicalTime? from, ClinicalTime? to)
    {
        var minutes = (to?.Utc - from?.Utc)?.TotalMinutes;
        return minutes >= 0 ? (int)Math.Round(minutes.Value, MidpointRounding.AwayFromZero) : null;
    }
}
