using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>Invented cases in which places are not decided, blocks were embedded again, or evidence differs.</summary>
internal static class SampleEvidence
{
    internal static CaseLog Undecided() => Some.Case()
        .Taken([Some.Ellipse(20, 16)], Some.Blocks(4))
        .Read("A", ReadingOutcome.Clear, Some.Edge("01:00", "01:40", FindingKind.NotSeen), Some.Floor("12:40", "01:30", FindingKind.Undetermined))
        .Clear("B")
        .Tumour("C", Some.Edge("07:00", "08:00"), Some.Edge("08:20", "08:50", FindingKind.NotSeen))
        .Clear("D");

    /// <summary>The rim is read and clear; the base under the same hours is not read.</summary>
    internal static CaseLog RimAndBase() => Some.Case()
        .Taken([Some.Ellipse()], Some.Blocks(2))
        .Tumour("A", Some.Edge("01:30", "03:00"), Some.Floor("01:30", "03:00")).Clear("B")
        .Taken(
            [Some.Rim("01:15", "03:15"), Some.Base("01:15", "03:15", false)],
            [Some.Block("A", "01:15", "03:15", "green", "black") with { PieceNumber = 1 }, Some.Block("B", "01:15", "03:15", "yellow", "orange") with { PieceNumber = 2 }])
        .Clear("A");

    internal static CaseLog Exhausted()
    {
        var to = Some.Case().Taken([Some.Ellipse()], Some.Blocks(4)).Clear("A", "B", "C");
        to.RecordReading(1, "D", new ReadingEntry(ReadingOutcome.Unreadable, Some.Surgeon, Some.At(40), [], NoMoreTissue: true), Some.Surgeon, Some.At(40));
        return to;
    }

    /// <summary>B was embedded again in C; D shows the edge alone and E the floor under it.</summary>
    internal static CaseLog Replaced()
    {
        var to = Some.Case()
            .Taken([Some.Ellipse(20, 16)],
            [
                Some.Block("A", "12:00", "04:00", "blue", "red", true), Some.Block("B", "04:00", "08:00", "red", "green", true),
                Some.Block("D", "08:00", "12:00", "green", "blue") with { Shows = ShownMargins.Peripheral },
                Some.Block("E", "08:00", "12:00", "green", "blue", true) with { Shows = ShownMargins.Deep },
            ])
            .Clear("A").Read("B", ReadingOutcome.Unreadable);
        to.AddBlock(1, Some.Block("C", "04:00", "08:00", "red", "green", true) with { Replaces = ["B"] }, Some.Histotech, Some.At(42));
        return to.Clear("C", "D");
    }

    internal static CaseLog PermanentDiffers()
    {
        var to = Some.Case().Taken([Some.Ellipse()], Some.Blocks(2)).Clear("A", "B");
        return Positive(to, "B", Some.Edge("08:00", "08:40"));
    }

    /// <summary>Ended as cleared, then four permanent sections differ and the tumour comes back.</summary>
    internal static CaseLog ManyNotices()
    {
        var to = Some.Case().Taken([Some.Ellipse()], Some.Blocks(4)).Clear("A", "B", "C", "D");
        to.End(new EndingEntry(CaseOutcome.Cleared, Some.At(90), null, null, null, RepairKind.Flap), null, Some.Surgeon, Some.At(91));
        to.RecordVisit(new VisitEntry(new DateOnly(2026, 3, 4), true), Some.Surgeon, Some.At(2000));
        foreach (var label in new[] { "A", "B", "C", "D" })
        {
            to = Positive(to, label);
        }

        return to;
    }

    private static CaseLog Positive(CaseLog to, string label, params FindingEntry[] findings)
    {
        to.SendForPermanentSection(1, label, Some.At(60), null, Some.Histotech, Some.At(60));
        to.ReportPermanentSection(1, label, new PermanentResultEntry(ReadingOutcome.Tumour, Some.At(2880), Findings: findings), Some.Surgeon, Some.At(2881));
        return to;
    }
}
