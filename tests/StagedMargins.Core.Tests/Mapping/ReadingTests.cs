using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class ReadingTests
{
    [Fact]
    public void A_sentence_never_says_seen_of_what_was_not()
    {
        Sentence(Entry(ReadingOutcome.Clear, Missing)).ShouldBe("Stage 1, block A: clear where seen; not seen at the peripheral margin, 10 to 10:30 o'clock.");
        Sentence(Entry(ReadingOutcome.Clear)).ShouldContain("the whole margin of the block was seen");
        Sentence(Entry(ReadingOutcome.Clear, Missing) with { NoMoreTissue = true }).ShouldContain("no more tissue to read there");
        Sentence(Entry(ReadingOutcome.Unreadable)).ShouldContain("a recut is needed");
        Sentence(Entry(ReadingOutcome.Unreadable) with { NoMoreTissue = true }).ShouldNotContain("a recut is needed");
        Refusal.OfEntry("noMoreTissue", () => Sentence(Entry(ReadingOutcome.Clear) with { NoMoreTissue = true }));

        static string Sentence(ReadingEntry entry)
        {
            var stage = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Record(1, "A", entry).Case.StageOf(1);
            return ReadingSentence.Of(stage, stage.Blocks[0], stage.Blocks[0].CountingReading!);
        }
    }

    private static FindingEntry Missing => Some.Found(FindingKind.NotSeen, Margin.Peripheral, "10:00-10:30");

    private static ReadingEntry Entry(ReadingOutcome outcome, params FindingEntry[] findings) => CaseVerbs.Entry(outcome, findings);

    [Fact]
    public void Tumour_needs_a_place_where_it_was_found()
    {
        Refusal.OfEntry("findings", () => Read(ReadingOutcome.Tumour));
        Refusal.OfEntry("findings", () => Read(ReadingOutcome.Tumour, Found(FindingKind.Inflammation), Found(FindingKind.Scar)));
        Read(ReadingOutcome.Tumour, Found(FindingKind.PerineuralInvasion)).Margins().State.ShouldBe(CaseState.TumourOutstanding);
        Read(ReadingOutcome.Tumour, Found(FindingKind.Tumour)).Margins().State.ShouldBe(CaseState.TumourOutstanding);
    }

    [Fact]
    public void Clear_has_no_tumour_and_no_perineural_invasion()
    {
        Refusal.OfEntry("findings", () => Read(ReadingOutcome.Clear, Found(FindingKind.Tumour)));
        Refusal.OfEntry("findings", () => Read(ReadingOutcome.Clear, Found(FindingKind.Scar), Found(FindingKind.PerineuralInvasion)));
    }

    [Theory]
    [InlineData(FindingKind.Inflammation)]
    [InlineData(FindingKind.ActinicChange)]
    [InlineData(FindingKind.Scar)]
    [InlineData(FindingKind.Other)]
    public void Whatever_else_is_found_does_not_make_a_margin_positive(FindingKind kind)
    {
        var margins = Read(ReadingOutcome.Clear, Found(kind)).Margins();
        margins.State.ShouldBe(CaseState.Cleared);
        margins.Peripheral.Outstanding.IsEmpty.ShouldBeTrue();
    }

    [Fact]
    public void An_unreadable_block_stays_unread()
    {
        var margins = Read(ReadingOutcome.Unreadable).Margins();
        margins.Peripheral.Unread.ShouldBe(MarginRegion.WholePeripheral);
        margins.Deep.Unread.ShouldBe(MarginRegion.WholeDeep);
        margins.State.ShouldBe(CaseState.AwaitingReadings);
    }

    [Fact]
    public void Tumour_seen_in_an_unreadable_block_counts_and_the_block_stays_unread()
    {
        var margins = Read(ReadingOutcome.Unreadable, Found(FindingKind.Tumour)).Margins();
        margins.Peripheral.Outstanding.ShouldBe(Some.Region("07:30-09:00"));
        margins.Peripheral.Unread.ShouldBe(MarginRegion.WholePeripheral);
        margins.State.ShouldBe(CaseState.TumourOutstanding);
    }

    [Fact]
    public void A_reading_is_kept_as_it_was_written()
    {
        var surgicalCase = Whole();
        var entry = CaseVerbs.Entry(ReadingOutcome.Clear, Found(FindingKind.Scar)) with { Note = " old biopsy site " };
        var reading = surgicalCase.RecordReading(1, "A", entry, Some.Histotech, Some.At(31));
        (reading.Ordinal, reading.Outcome, reading.ReaderId, reading.ReadAt, reading.RecordedById, reading.RecordedAt, reading.Note)
            .ShouldBe((1, ReadingOutcome.Clear, Some.Surgeon, Some.At(29), Some.Histotech, Some.At(31), "old biopsy site"));
        (reading.AmendsId, reading.Reason, reading.Countersignature).ShouldBe((null, null, null));
        surgicalCase.Case.StageOf(1).BlockOf("A").CountingReading.ShouldBeSameAs(reading);
    }

    [Fact]
    public void The_amendment_counts_and_the_former_reading_stays_in_the_record()
    {
        var surgicalCase = Read(ReadingOutcome.Clear).Amend(1, "A", Found(FindingKind.Tumour)).Amend(1, "A");
        var block = surgicalCase.Case.StageOf(1).BlockOf("A");
        block.Readings.Select(reading => reading.Outcome).ShouldBe([ReadingOutcome.Clear, ReadingOutcome.Tumour, ReadingOutcome.Clear]);
        block.Readings.Select(reading => reading.Ordinal).ShouldBe([1, 2, 3]);
        block.CountingReading.ShouldBeSameAs(block.Readings[2]);
        block.AmendmentOf(block.Readings[0]).ShouldBeSameAs(block.Readings[1]);
        block.AmendmentOf(block.Readings[2]).ShouldBeNull();
        block.Readings[1].Reason.ShouldBe("second look");
        surgicalCase.Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void A_clear_margin_that_is_amended_to_unreadable_is_unread_again() =>
        Read(ReadingOutcome.Clear).AmendUnreadable(1, "A").Margins().State.ShouldBe(CaseState.AwaitingReadings);

    [Fact]
    public void A_second_reading_must_say_that_it_amends_the_one_that_counts()
    {
        var surgicalCase = Read(ReadingOutcome.Clear);
        var first = surgicalCase.Case.StageOf(1).BlockOf("A").CountingReading!.Id;
        Refusal.OfStep("alreadyRead", () => surgicalCase.Read(1, "A"));
        surgicalCase.Amend(1, "A", Found(FindingKind.Tumour));
        Refusal.OfStep("alreadyRead", () => surgicalCase.Record(1, "A", CaseVerbs.Entry(ReadingOutcome.Clear) with { AmendsId = first, Reason = "stale" }));
        surgicalCase.Case.StageOf(1).BlockOf("A").Readings.Count.ShouldBe(2);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("   ")]
    public void An_amendment_must_say_its_reason(string? reason)
    {
        var surgicalCase = Read(ReadingOutcome.Clear);
        var entry = CaseVerbs.Amendment(surgicalCase, 1, "A", ReadingOutcome.Clear, []) with { Reason = reason };
        Refusal.OfStep("reasonMissing", () => surgicalCase.Record(1, "A", entry));
    }

    [Fact]
    public void Nothing_can_be_amended_before_the_first_reading()
    {
        var entry = CaseVerbs.Entry(ReadingOutcome.Clear) with { AmendsId = Guid.Parse("55555555-5555-5555-5555-555555555555"), Reason = "typo" };
        Refusal.OfStep("nothingToAmend", () => Whole().Record(1, "A", entry));
    }

    [Fact]
    public void Only_what_is_there_can_be_read()
    {
        Should.Throw<NotInRecordException>(() => Whole().Read(2, "A"));
        Should.Throw<NotInRecordException>(() => Whole().Read(1, "B"));
    }

    [Fact]
    public void A_reading_and_a_block_have_their_limits()
    {
        FindingEntry[] findings = [.. Enumerable.Repeat(Found(FindingKind.Scar), RecordLimits.Findings + 1)];
        Refusal.OfEntry("findings", () => Whole().Read(1, "A", findings));
        var surgicalCase = Whole().Read(1, "A", findings[1..]);
        for (var i = 1; i < RecordLimits.Readings; i++)
        {
            surgicalCase.Amend(1, "A");
        }

        Refusal.OfEntry("amends", () => surgicalCase.Amend(1, "A"));
        surgicalCase.Case.StageOf(1).BlockOf("A").Readings.Count.ShouldBe(RecordLimits.Readings);
    }

    private static FindingEntry Found(FindingKind kind) => Some.Found(kind, Margin.Peripheral, "07:30-09:00");

    private static CaseLog Whole() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));

    private static CaseLog Read(ReadingOutcome outcome, params FindingEntry[] findings) =>
        Whole().Record(1, "A", CaseVerbs.Entry(outcome, findings));
}
