using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class FindingPlaceTests
{
    [Fact]
    public void A_finding_by_arc_and_one_along_the_slide_land_on_the_same_place()
    {
        var byArc = Halves().Read(1, "B", Some.TumourAt("07:30-09:00")).Margins();
        var along = Halves().Read(1, "B", Some.FoundAlong(Margin.Peripheral, 0.25m, 0.5m)).Margins();
        along.Peripheral.Outstanding.ShouldBe(Some.Region("07:30-09:00"));
        along.Peripheral.Outstanding.ShouldBe(byArc.Peripheral.Outstanding);
        Mirrored().Read(1, "B", Some.FoundAlong(Margin.Deep, 0.25m, 0.5m)).Margins()
            .Deep.Outstanding.ShouldBe(Some.Region("09:00-10:30"));
    }

    [Fact]
    public void A_finding_that_says_otherwise_than_its_block_whether_the_slide_is_mirrored_is_refused()
    {
        Refusal.OfEntry("findings[0].mirrored", () => Mirrored().Read(1, "B", Some.FoundAlong(Margin.Deep, 0.25m, 0.5m) with { Mirrored = false }));
        Refusal.OfEntry("findings[0].mirrored", () => Halves().Read(1, "B", Some.FoundAlong(Margin.Deep, 0.25m, 0.5m) with { Mirrored = true }));
    }

    private static CaseLog Mirrored() =>
        Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00", centre: true) with { Mirrored = true });

    [Fact]
    public void How_the_reader_gave_the_place_is_kept_beside_it()
    {
        var finding = Mirrored().Read(1, "B", Some.FoundAlong(Margin.Peripheral, 0.25m, 0.5m))
            .Case.StageOf(1).BlockOf("B").CountingReading!.Findings.Single();
        finding.ShouldBe(new Finding(FindingKind.Tumour, Margin.Peripheral, Some.Arc("09:00-10:30"), false, new AlongSlide(0.25m, 0.5m, true)));
    }

    [Theory]
    [InlineData("05:59-07:00")]
    [InlineData("11:00-12:01")]
    [InlineData("12:00-01:00")]
    [InlineData("12:00-12:00")]
    public void A_finding_outside_its_block_is_refused_with_the_arc_of_the_block(string arc) =>
        Refusal.OfEntry("findings[0].arc", () => Halves().Read(1, "B", Some.TumourAt(arc))).Message.ShouldContain("6 to 12 o'clock");

    [Fact]
    public void A_finding_that_fills_its_block_is_inside_it() =>
        Halves().Read(1, "B", Some.TumourAt("06:00-12:00")).Margins().Peripheral.Outstanding.ShouldBe(Some.Region("06:00-12:00"));

    [Fact]
    public void A_finding_has_one_place()
    {
        var both = Some.FoundAlong(Margin.Deep, 0, 1) with { Arc = Some.Arc("07:00-08:00") };
        Refusal.OfEntry("findings[0].along", () => Halves().Read(1, "B", both));
        Refusal.OfEntry("findings[0].arc", () => Halves().Read(1, "B", Some.Found(FindingKind.Scar, Margin.Deep, null)));
        Refusal.OfEntry("findings[1].along", () => Halves().Read(1, "B", Some.TumourAt("07:00-08:00"), Some.FoundAlong(Margin.Deep, 0.5m, 0.4m)));
    }

    [Fact]
    public void A_peripheral_finding_has_no_centre() =>
        Refusal.OfEntry("findings[0].centre", () => Halves().Read(1, "B", Some.Found(FindingKind.Tumour, Margin.Peripheral, "07:00-08:00", centre: true)));

    [Fact]
    public void Only_a_block_with_the_centre_holds_a_finding_there()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00"), Some.Block("B", "06:00-12:00", centre: true), Some.Block("C", null, centre: true));
        var atCentre = Some.Found(FindingKind.Tumour, Margin.Deep, null, centre: true);
        Refusal.OfEntry("findings[0].centre", () => surgicalCase.Read(1, "A", atCentre)).Message.ShouldContain("does not include the centre");
        surgicalCase.Read(1, "B", atCentre with { Arc = Some.Arc("07:00-08:00") }).Margins().Deep.Outstanding.ShouldBe(Some.Region("07:00-08:00", "centre"));
        surgicalCase.Read(1, "C", atCentre).Margins().Deep.Outstanding.ShouldBe(Some.Region("07:00-08:00", "centre"));
    }

    [Fact]
    public void Nothing_lies_along_a_block_of_the_centre_alone()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("C", null, centre: true));
        Refusal.OfEntry("findings[0].along", () => surgicalCase.Read(1, "C", Some.FoundAlong(Margin.Deep, 0, 0.5m)));
        Refusal.OfEntry("findings[0].arc", () => surgicalCase.Read(1, "C", Some.TumourAt("07:00-08:00", Margin.Deep)));
    }

    [Fact]
    public void A_block_of_a_base_has_no_peripheral_margin()
    {
        var surgicalCase = Halves().Read(1, "A").Read(1, "B").Take(Some.Base("07:00-09:00", centre: true), Some.Block("A", "07:00-09:00", centre: true));
        Refusal.OfEntry("findings[0].margin", () => surgicalCase.Read(2, "A", Some.TumourAt("07:00-08:00"))).Message.ShouldContain("no peripheral margin");
        surgicalCase.Read(2, "A", Some.TumourAt("07:00-08:00", Margin.Deep)).Margins().Deep.Outstanding.ShouldBe(Some.Region("07:00-08:00"));
    }

    [Fact]
    public void A_block_of_a_base_shows_no_edge_though_a_rim_lies_beside_it()
    {
        var surgicalCase = Halves().Read(1, "A").Read(1, "B").Take([Some.Rim("07:00-08:00"), Some.Base("07:00-09:00")], [Some.Block("A", "07:00-09:00")]);
        Refusal.OfEntry("findings[0].margin", () => surgicalCase.Read(2, "A", Some.TumourAt("07:30-08:00"))).Message.ShouldContain("no peripheral margin");
        surgicalCase.Read(2, "A", Some.TumourAt("07:30-08:30", Margin.Deep)).Margins().Deep.Outstanding.ShouldBe(Some.Region("07:30-08:30"));
    }

    [Fact]
    public void A_refused_finding_leaves_no_reading_behind()
    {
        var surgicalCase = Halves();
        var before = surgicalCase.Case.Version;
        Refusal.OfEntry("findings[1].arc", () => surgicalCase.Read(1, "B", Some.TumourAt("07:00-08:00"), Some.TumourAt("01:00-02:00")));
        (surgicalCase.Case.StageOf(1).BlockOf("B").Readings.Count, surgicalCase.Case.Version).ShouldBe((0, before));
    }

    private static CaseLog Halves() =>
        Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00", centre: true));
}
