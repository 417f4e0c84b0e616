using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Audit;

/// <summary>The figures of the audit worked out case by case from what the API shows of each, by other means than the service's: lists, sorting and the definitions.</summary>
/// <param name="cases">The ended cases as the API sends them.</param>
internal sealed class AuditOracle(IReadOnlyList<JsonNode> cases)
{
    private readonly List<JsonNode> treated = [.. cases.Where(caseJson => caseJson["stages"]!.AsArray().Count > 0)];

    /// <summary>Every ended case that someone sees.</summary>
    internal static async Task<AuditOracle> OfAsync(Caller surgeon)
    {
        var all = new List<JsonNode>();
        string? cursor = null;
        do
        {
            var page = (await surgeon.GetAsync($"/api/cases?status=ended&limit=200{(cursor is null ? "" : $"&cursor={cursor}")}")).Expect(200);
            foreach (var item in page.At("items")!.AsArray())
            {
                all.Add((await surgeon.CaseAsync(item!["id"]!.GetValue<string>())).Json);
            }

            cursor = page.At("next")?.GetValue<string>();
        }
        while (cursor is not null);
        return new AuditOracle(all);
    }

    /// <summary>Those of a group.</summary>
    internal AuditOracle Where(Func<JsonNode, bool> isIn) => new([.. cases.Where(isIn)]);

    /// <summary>Fails unless the figures served are these.</summary>
    internal void ShouldBe(JsonNode served)
    {
        var stages = treated.Select(caseJson => (double)caseJson["stages"]!.AsArray().Count).Order().ToList();
        Same(served, "cases", stages.Count);
        Same(served, "casesWithoutLayer", cases.Count - treated.Count);
        Same(served, "stages", stages.Sum());
        Same(served, "meanStages", Mean(stages));
        Same(served, "medianStages", Quantile(stages, 0.5));
        Same(served, "sdStages", stages.Count < 2 ? null : Math.Sqrt(stages.Sum(n => Math.Pow(n - stages.Average(), 2)) / (stages.Count - 1)));
        for (var n = 1; n <= 4; n++)
        {
            Same(served["distribution"]!, $"{n}", stages.Count(count => count == n));
        }

        Same(served["distribution"]!, "5+", stages.Count(count => count >= 5));
        Outcomes(served);
        Readings(served);
        Sizes(served);
        Pairs(served);
        var turnaround = treated.SelectMany(caseJson => caseJson["stages"]!.AsArray()).Select(stage => Turnaround(stage!)).OfType<double>().Order().ToList();
        Same(served, "stagesTimed", turnaround.Count);
        Same(served, "turnaroundP50Minutes", Quantile(turnaround, 0.5));
        Same(served, "turnaroundP90Minutes", Quantile(turnaround, 0.9));
    }

    private void Outcomes(JsonNode served)
    {
        foreach (var outcome in new[] { "cleared", "stoppedWithTumour", "stoppedNotCleared" })
        {
            Same(served, outcome, treated.Count(caseJson => caseJson["outcome"]!.GetValue<string>() == outcome));
        }

        Same(served, "notDone", cases.Count(caseJson => caseJson["outcome"]!.GetValue<string>() == "notDone"));
        Same(served, "reopenings", treated.SelectMany(caseJson => caseJson["endings"]!.AsArray()).Count(ending => ending!["reopenedAt"] is not null));
        Same(served, "corrections", treated.Sum(caseJson => caseJson["stages"]!.AsArray().Sum(stage => stage!["corrections"]!.AsArray().Count) + caseJson["withdrawnStages"]!.AsArray().Count));
        var reviews = treated.SelectMany(caseJson => caseJson["reviews"]!.AsArray()).ToList();
        Same(served, "reviewsOpen", reviews.Count(review => review!["resolvedAt"] is null));
        Same(served, "reviewsAnswered", reviews.Count(review => review!["resolvedAt"] is not null));
        Same(served, "recalls", treated.Count(caseJson => caseJson["recall"]!.GetValue<bool>()));

        // By the last stage whoever ended as cleared, and is clear still, is clear.
        var clear = treated.Count(caseJson => caseJson["outcome"]!.GetValue<string>() == "cleared" && caseJson["margins"]!["state"]!.GetValue<string>() == "cleared");
        var byStage = served["clearedByStage"]!.AsArray().Select(share => share!.GetValue<double>()).ToList();
        byStage.ShouldBe(byStage.Order());
        if (treated.Count > 0)
        {
            byStage[^1].ShouldBe((double)clear / treated.Count, 1e-12);
        }
    }

    private void Readings(JsonNode served)
    {
        var blocks = treated.SelectMany(caseJson => caseJson["stages"]!.AsArray()).SelectMany(stage => stage!["blocks"]!.AsArray()).ToList();
        var readings = blocks.SelectMany(block => block!["readings"]!.AsArray()).ToList();
        Same(served, "readings", readings.Count);
        Same(served, "unreadable", readings.Count(IsUnreadable));
        Same(served, "unreadableRate", readings.Count == 0 ? null : (double)readings.Count(IsUnreadable) / readings.Count);
        var notSeen = readings.Count(reading => reading!["findings"]!.AsArray().Any(finding => finding!["kind"]!.GetValue<string>() is "notSeen" or "undetermined"));
        Same(served, "notSeen", notSeen);
        Same(served, "notSeenRate", readings.Count == 0 ? null : (double)notSeen / readings.Count);
        Same(served, "readingsWithdrawn", readings.Count(IsWithdrawn));
        Same(served, "amendments", readings.Count(reading => reading!["amends"] is not null));
        Same(served, "recuts", blocks.Sum(block => block!["readings"]!.AsArray().Count(reading => reading!["amends"] is { } amended
            && IsUnreadable(block["readings"]!.AsArray().Single(other => other!["id"]!.GetValue<string>() == amended.GetValue<string>())))));
        Same(served, "blocksPerStage", treated.Count == 0 ? null : (double)blocks.Count / treated.Sum(caseJson => caseJson["stages"]!.AsArray().Count));
    }

    private void Sizes(JsonNode served)
    {
        var areas = treated.Select(caseJson => caseJson["margins"]!["defect"]!["areaMm2"]!.GetValue<double>()).ToList();
        Same(served, "meanDefectMm2", Mean(areas), 0.01);
        Same(served, "meanGrowth", Mean([.. treated.Select(caseJson => caseJson["margins"]!["defect"]!["growth"]).Where(growth => growth is not null).Select(growth => growth!.GetValue<double>())]), 0.01);
        var bands = served["defectBands"]!;
        Same(bands, "under1Cm2", areas.Count(area => area < 100));
        Same(bands, "from1Cm2", areas.Count(area => area is >= 100 and < 400));
        Same(bands, "from4Cm2", areas.Count(area => area is >= 400 and < 1000));
        Same(bands, "from10Cm2", areas.Count(area => area >= 1000));
    }

    // Kappa by its other form for two categories: 2(ad − bc) ÷ ((a + b)(b + d) + (a + c)(c + d)).
    private void Pairs(JsonNode served)
    {
        var pairs = treated.SelectMany(caseJson => caseJson["secondReads"]!.AsArray()).Where(read => read!["first"] is not null && read["second"] is not null)
            .Select(read => (First: read!["first"]!.GetValue<string>(), Second: read["second"]!.GetValue<string>())).ToList();
        var compared = pairs.Where(pair => pair.First != "unreadable" && pair.Second != "unreadable").ToList();
        Same(served, "readPairs", compared.Count);
        Same(served, "readPairsNotComparable", pairs.Count - compared.Count);
        Same(served, "readPairsAgreed", compared.Count(pair => pair.First == pair.Second));
        double Count(string first, string second) => compared.Count(pair => pair == (first, second));
        var (a, b, c, d) = (Count("clear", "clear"), Count("clear", "tumour"), Count("tumour", "clear"), Count("tumour", "tumour"));
        var below = ((a + b) * (b + d)) + ((a + c) * (c + d));
        double? kappa = below == 0 || compared.Count < 10 ? null : KappaOf([a, b, c, d]);
        Same(served, "kappa", kappa);
        var half = kappa is null ? null : 1.959964 * DeltaError([a, b, c, d]);
        Same(served, "kappaLower95", kappa - half is { } lower ? Math.Max(-1, lower) : null, 1e-5);
        Same(served, "kappaUpper95", kappa + half is { } upper ? Math.Min(1, upper) : null, 1e-5);
    }

    private static double KappaOf(double[] n) => 2 * ((n[0] * n[3]) - (n[1] * n[2])) / (((n[0] + n[1]) * (n[1] + n[3])) + ((n[0] + n[2]) * (n[2] + n[3])));

    // The standard error by the delta method: how kappa moves as the share of each cell does, each derivative taken from two points beside it.
    private static double? DeltaError(double[] counts)
    {
        const double step = 1e-5;
        var all = counts.Sum();
        double[] shares = [.. counts.Select(count => count / all)];
        double[] slopes = [.. shares.Select((_, i) => (KappaOf(Moved(i, step)) - KappaOf(Moved(i, -step))) / (2 * step))];
        var mean = slopes.Zip(shares, (slope, share) => slope * share).Sum();
        return Math.Sqrt(Math.Max(0, slopes.Zip(shares, (slope, share) => slope * slope * share).Sum() - (mean * mean)) / all);

        double[] Moved(int cell, double by) => [.. shares.Select((share, i) => i == cell ? share + by : share)];
    }

    private static double? Turnaround(JsonNode stage)
    {
        var firsts = stage["blocks"]!.AsArray().Where(block => !block!["replaced"]!.GetValue<bool>())
            .Select(block => block!["readings"]!.AsArray().FirstOrDefault(reading => !IsUnreadable(reading) && !IsWithdrawn(reading))).ToList();
        if (firsts.Count == 0 || firsts.Contains(null))
        {
            return null;
        }

        var minutes = Math.Round(firsts.Max(reading => reading!["readAt"]!.GetValue<DateTimeOffset>() - stage["takenAt"]!.GetValue<DateTimeOffset>()).TotalMinutes, MidpointRounding.AwayFromZero);
        return minutes is >= 0 and <= 10080 ? minutes : null;
    }

    private static bool IsUnreadable(JsonNode? reading) => reading!["outcome"]!.GetValue<string>() == "unreadable";

    private static bool IsWithdrawn(JsonNode? reading) => reading!["withdrawn"]!.GetValue<bool>();

    private static double? Mean(List<double> values) => values.Count == 0 ? null : values.Average();

    // Type 7 of Hyndman and Fan by its other form: weights of the neighbours of 1 + (n − 1)p, counted from 1.
    private static double? Quantile(List<double> sorted, double share)
    {
        if (sorted.Count == 0)
        {
            return null;
        }

        var place = 1 + ((sorted.Count - 1) * share);
        var (low, high) = ((int)Math.Floor(place), (int)Math.Ceiling(place));
        return ((1 - (place - low)) * sorted[low - 1]) + ((place - low) * sorted[high - 1]);
    }

    private static void Same(JsonNode served, string figure, double? expected, double within = 1e-9)
    {
        var value = served[figure]?.GetValue<double>();
        (value is null).ShouldBe(expected is null, figure);
        if (expected is { } wanted)
        {
            value!.Value.ShouldBe(wanted, within, figure);
        }
    }
}
