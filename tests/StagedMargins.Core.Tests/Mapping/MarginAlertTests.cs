using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class MarginAlertTests
{
    [Fact]
    public void A_layer_that_takes_the_target_and_no_more_says_nothing() =>
        Alerts(Some.Rim("07:15-09:15")).ShouldBeEmpty();

    [Theory]
    [InlineData("07:45-09:15", "07:30-07:45")]
    [InlineData("07:15-08:59", "08:59-09:00")]
    [InlineData("08:00-08:30", "07:30-08:00 08:30-09:00")]
    [InlineData("01:00-02:00", "07:30-09:00")]
    public void Tumour_that_the_layer_misses_is_left_behind_and_the_overlap_is_not_spoken_of(string rim, string left)
    {
        var alerts = Alerts(Some.Rim(rim));
        alerts[0].ShouldBe(new MarginAlert(AlertCode.LeftBehind, Margin.Peripheral, Some.Region(left.Split(' '))));
        alerts.ShouldNotContain(alert => alert.Code == AlertCode.ThinOverlap);
    }

    [Theory]
    [InlineData("07:30-09:00", "07:15-07:30 09:00-09:15")]
    [InlineData("07:15-09:09", "09:09-09:15")]
    [InlineData("07:18-09:12", "07:15-07:18 09:12-09:15")]
    public void A_layer_that_takes_the_tumour_and_not_all_of_the_overlap_is_thin(string rim, string missing) =>
        Alerts(Some.Rim(rim)).ShouldBe([new MarginAlert(AlertCode.ThinOverlap, Margin.Peripheral, Some.Region(missing.Split(' ')))]);

    [Theory]
    [InlineData("07:20-09:15")]
    [InlineData("07:17-09:12")]
    public void Up_to_five_minutes_of_the_overlap_are_within_what_a_hand_can_cut(string rim) => Alerts(Some.Rim(rim)).ShouldBeEmpty();

    [Fact]
    public void Unread_tissue_that_a_layer_takes_is_not_beyond_its_target()
    {
        var surgicalCase = WithTumour().AmendUnreadable(1, "A").Take([Some.Rim("01:00-02:00")], [Some.Block("A", "01:00-02:00")], "no more tissue");
        surgicalCase.Case.Stages[1].Alerts.ShouldBeEmpty();
    }

    [Fact]
    public void Healthy_skin_beyond_the_target_is_told() =>
        Alerts(Some.Rim("07:00-10:00")).ShouldBe([new MarginAlert(AlertCode.BeyondTarget, Margin.Peripheral, Some.Region("07:00-07:15", "09:15-10:00"))]);

    [Fact]
    public void Each_margin_is_spoken_of_on_its_own()
    {
        var surgicalCase = WithTumour().Amend(1, "A", Some.TumourAt("07:30-09:00"), Some.TumourAt("01:00-02:00", Margin.Deep));
        var alerts = Take(surgicalCase, Some.Rim("08:00-09:15"), Some.Base("01:00-02:00"));
        alerts.ShouldBe(
        [
            new MarginAlert(AlertCode.LeftBehind, Margin.Peripheral, Some.Region("07:30-08:00")),
            new MarginAlert(AlertCode.ThinOverlap, Margin.Deep, Some.Region("12:45-01:00", "02:00-02:15")),
        ]);
    }

    [Fact]
    public void Tumour_left_behind_on_the_floor_does_not_hide_a_thin_overlap_on_the_edge()
    {
        var surgicalCase = WithTumour().Amend(1, "A", Some.TumourAt("07:30-09:00"), Some.Found(FindingKind.PerineuralInvasion, Margin.Deep, null, centre: true));
        Take(surgicalCase, Some.Rim("07:30-09:15")).ShouldBe(
        [
            new MarginAlert(AlertCode.LeftBehind, Margin.Deep, Some.Region("centre")),
            new MarginAlert(AlertCode.ThinOverlap, Margin.Peripheral, Some.Region("07:15-07:30")),
        ]);
    }

    [Fact]
    public void The_centre_taken_without_need_lies_beyond_the_target() =>
        Alerts(Some.RimAndBase("07:15-09:15", centre: true)).ShouldBe(
            [new MarginAlert(AlertCode.BeyondTarget, Margin.Deep, Some.Region("07:15-09:15", "centre"))]);

    [Fact]
    public void A_gap_in_the_blocks_is_told()
    {
        var surgicalCase = WithTumour().Take(Some.Rim("07:15-09:15"), Some.Block("A", "07:15-09:00"));
        surgicalCase.Case.Stages[1].Alerts.ShouldBe(
        [
            new MarginAlert(AlertCode.Unmapped, Margin.Peripheral, Some.Region("09:00-09:15")),
            new MarginAlert(AlertCode.Unmapped, Margin.Deep, Some.Region("09:00-09:15")),
        ]);
    }

    [Fact]
    public void The_first_layer_lies_beyond_no_target_but_may_be_unmapped()
    {
        Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Case.Stages[0].Alerts.ShouldBeEmpty();
        Some.Case().Take(Some.Whole()).Case.Stages[0].Alerts.Select(alert => alert.Code).ShouldBe([AlertCode.Unmapped, AlertCode.Unmapped]);
    }

    [Fact]
    public void The_loudest_comes_first()
    {
        var surgicalCase = WithTumour().Take(Some.Rim("08:00-10:00"));
        surgicalCase.Case.Stages[1].Alerts.Select(alert => alert.Code).ShouldBe([AlertCode.LeftBehind, AlertCode.Unmapped, AlertCode.Unmapped, AlertCode.BeyondTarget]);
        surgicalCase.Margins().Alerts.ShouldBe(surgicalCase.Case.Stages[1].Alerts);
    }

    [Fact]
    public void The_clinic_s_overlap_makes_the_target()
    {
        var none = new Overlap(0);
        var surgicalCase = WithTumour();
        surgicalCase.Case.Margins(none).Target(Margin.Peripheral).ShouldBe(Some.Region("07:30-09:00"));
        surgicalCase.Case.Margins(new Overlap(120)).Target(Margin.Peripheral).ShouldBe(Some.Region("05:30-11:00"));
        surgicalCase.Take([Some.Rim("07:30-09:00")], [Some.Block("A", "07:30-09:00")], overlap: 0).Case.Stages[1].Alerts.ShouldBeEmpty();
    }

    [Fact]
    public void Every_alert_is_told_in_words_with_its_place()
    {
        var region = Some.Region("07:30-09:00", "centre");
        AlertCode[] ofMargins = [AlertCode.LeftBehind, AlertCode.ThinOverlap, AlertCode.Unmapped, AlertCode.PiecesOverlap, AlertCode.BeyondTarget];
        foreach (var code in ofMargins)
        {
            new MarginAlert(code, Margin.Deep, region).Message().ShouldContain("deep margin, 7:30 to 9 o'clock and the centre");
        }

        Enum.GetValues<AlertCode>().Select(code => new MarginAlert(code, Margin.Deep, region).Message()).Distinct().Count().ShouldBe(Enum.GetValues<AlertCode>().Length);
    }

    [Fact]
    public void Inks_that_do_not_tell_ends_apart_or_contradict_each_other_are_told()
    {
        Alerts(("A", "12:00-06:00", "blue", "red"), ("B", "06:00-12:00", "red", "blue")).ShouldBeEmpty();
        Alerts(("A", "12:00-06:00", "blue", "Blue"), ("B", "06:00-12:00", null, null)).ShouldBe([Some.Region("12:00-06:00")]);
        Alerts(("A", "12:00-06:00", "blue", "red"), ("B", "06:00-12:00", "green", "blue")).ShouldBe([Some.Region("12:00-06:00")]);
        Alerts(("A", "12:00-12:00", "blue", "blue")).ShouldBeEmpty();

        static IReadOnlyList<MarginRegion> Alerts(params (string Label, string Arc, string? From, string? To)[] blocks) =>
        [
            .. Some.Case().Take(Some.Whole(), [.. blocks.Select(block => Some.Block(block.Label, block.Arc) with { FromInk = block.From, ToInk = block.To })])
                .Case.Stages[0].Alerts.Where(alert => alert.Code == AlertCode.InksUnclear).Select(alert => alert.Region),
        ];
    }

    [Fact]
    public void Unusual_sizes_and_times_out_of_order_are_told_and_taken()
    {
        Some.Case().Correct(Some.Facts(preOperative: Some.Lesion(14.02m, 9))).Take(Some.Whole()).Case.Stages[0].Alerts.Select(alert => alert.Code).ShouldContain(AlertCode.UnusualSize);
        Some.Case().Correct(Some.Facts(preOperative: Some.Lesion(14, 10))).Take(Some.Whole()).Case.Stages[0].Alerts.Select(alert => alert.Code).ShouldNotContain(AlertCode.UnusualSize);
        CodesOf(Some.Rim("07:30-09:00", 0.4m)).ShouldContain(AlertCode.UnusualSize);
        CodesOf(Some.Rim("07:30-09:00", 0.5m)).ShouldNotContain(AlertCode.UnusualSize);
        CodesOf(Some.Rim("07:30-09:00", 15m)).ShouldNotContain(AlertCode.UnusualSize);
        CodesOf(Some.Rim("07:30-09:00", 15.1m)).ShouldContain(AlertCode.UnusualSize);
        var early = WithTumour();
        early.RecordLayer(new Layer(Some.At(9), [Some.Rim("07:30-09:00")], []), Some.Overlap, Some.Surgeon, Some.At(11)).Alerts.Select(alert => alert.Code).ShouldContain(AlertCode.TimesOutOfOrder);

        static IEnumerable<AlertCode> CodesOf(Piece piece) => WithTumour().Take(piece).Case.Stages[1].Alerts.Select(alert => alert.Code);
    }

    private static CaseLog WithTumour() =>
        Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A", Some.TumourAt("07:30-09:00"));

    private static IReadOnlyList<MarginAlert> Alerts(Piece piece) => Take(WithTumour(), piece);

    // Each piece with a block of its own, so that nothing is unmapped.
    private static IReadOnlyList<MarginAlert> Take(CaseLog surgicalCase, params Piece[] pieces) => surgicalCase
        .Take(pieces, [.. pieces.Select((piece, i) => new BlockEntry($"{(char)('A' + i)}", piece.Arc, piece.Centre, null, null, i + 1))])
        .Case.Stages[^1].Alerts;
}
