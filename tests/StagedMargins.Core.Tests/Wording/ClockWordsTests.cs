using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Tests.Wording;

public sealed class ClockWordsTests
{
    [Theory]
    [InlineData("07:30-09:00", "7:30 to 9 o'clock", "7:30–9:00 o'clock")]
    [InlineData("11:00-01:00", "11 to 1 o'clock", "11:00–1:00 o'clock")]
    [InlineData("12:00-12:30", "12 to 12:30 o'clock", "12:00–12:30 o'clock")]
    [InlineData("12:00-12:00", "all around", "all around")]
    public void An_arc_is_said_in_a_sentence_and_in_a_label(string arc, string sentence, string label)
    {
        Some.Arc(arc).InSentence().ShouldBe(sentence);
        Some.Arc(arc).InLabel().ShouldBe(label);
    }

    [Fact]
    public void A_position_is_said_with_o_clock()
    {
        ClockPosition.Parse("07:30").InSentence().ShouldBe("7:30 o'clock");
        ClockPosition.Twelve.InSentence().ShouldBe("12 o'clock");
    }

    [Fact]
    public void A_region_names_its_arcs_and_the_centre()
    {
        (string Sentence, string Label) Of(MarginRegion region) => (region.InSentence(), region.InLabel());

        Of(Some.Region("07:30-09:00", "centre")).ShouldBe(("7:30 to 9 o'clock and the centre", "7:30–9:00 o'clock, the centre"));
        Of(Some.Region("07:30-09:00", "11:00-01:00")).ShouldBe(("7:30 to 9 and 11 to 1 o'clock", "7:30–9:00, 11:00–1:00 o'clock"));
        Of(Some.Region("02:00-03:00", "04:00-05:00", "06:00-07:15"))
            .ShouldBe(("2 to 3, 4 to 5 and 6 to 7:15 o'clock", "2:00–3:00, 4:00–5:00, 6:00–7:15 o'clock"));
        Of(Some.Region("centre")).ShouldBe(("the centre", "the centre"));
        Of(MarginRegion.WholePeripheral).ShouldBe(("all around", "all around"));
        Of(MarginRegion.WholeDeep).ShouldBe(("all around and the centre", "all around, the centre"));
        Of(MarginRegion.None).ShouldBe(("none", "none"));
    }

    [Fact]
    public void A_place_that_is_not_clear_says_what_it_is_and_on_which_margin()
    {
        new BlockingRegion(BlockingRegion.Outstanding, Margin.Peripheral, Some.Region("07:30-09:00")).InSentence()
            .ShouldBe("tumour outstanding at the peripheral margin, 7:30 to 9 o'clock");
        new BlockingRegion(BlockingRegion.Unread, Margin.Deep, Some.Region("centre")).InSentence().ShouldBe("unread at the deep margin, the centre");
        Margin.Deep.WithPlaces(Some.Region("06:00-07:00")).ShouldBe("deep margin, 6:00–7:00 o'clock");
    }

    // The text form of the API has two digits before the colon; a time of day has its date or "at".
    [Fact]
    public void No_position_in_words_looks_like_a_time_of_day()
    {
        for (var from = 0; from < ClockPosition.MinutesInCircle; from++)
        {
            var arc = ClockArc.Starting(new ClockPosition(from), 45);
            arc.InSentence().ShouldMatch(@"^\d{1,2}(:\d\d)? to \d{1,2}(:\d\d)? o'clock$");
            arc.InLabel().ShouldMatch(@"^[1-9]\d?:\d\d–[1-9]\d?:\d\d o'clock$");
        }
    }
}
