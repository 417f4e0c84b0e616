using StagedMargins.Core.CountingUnits;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.CountingUnits;

/// <summary>
/// The rule, in counts: a first stage, further stages, and each block beyond five within its own stage; head, neck, hands, feet,
/// genitalia or direct involvement of muscle, cartilage or bone apart from trunk, arms and legs. Source: the descriptions of the
/// American billing codes for staged margin-controlled surgery, as read in coding guides; the examples are that rule applied.
/// </summary>
public sealed class CaseUnitsTests
{
    [Theory]
    [InlineData("C44.3", AreaClass.H, null, new[] { 2, 1 }, RegionGroup.HeadNeckHandsFeetGenitalia, 1, 1, 0)]
    [InlineData("C44.3", AreaClass.H, null, new[] { 7, 3, 6 }, RegionGroup.HeadNeckHandsFeetGenitalia, 1, 2, 3)]
    [InlineData("C44.5", AreaClass.L, null, new[] { 4, 4, 4 }, RegionGroup.TrunkArmsLegs, 1, 2, 0)]
    [InlineData("C44.7", AreaClass.L, null, new[] { 5 }, RegionGroup.TrunkArmsLegs, 1, 0, 0)]
    [InlineData("C44.7", AreaClass.L, AnatomicalPlane.Muscle, new[] { 6 }, RegionGroup.HeadNeckHandsFeetGenitalia, 1, 0, 1)]
    public void The_examples_are_met_by_counts(
        string site, AreaClass area, AnatomicalPlane? plane, int[] blocks, RegionGroup group, int first, int further, int beyond) =>
        CaseUnits.Of(CaseUnits.GroupOf(Facts(site, area, plane)), blocks).ShouldBe(new CaseUnits(group, first, further, beyond));

    [Theory]
    [InlineData("C44.4", null, RegionGroup.HeadNeckHandsFeetGenitalia)]
    [InlineData("C44.6", AreaClass.H, RegionGroup.HeadNeckHandsFeetGenitalia)]
    [InlineData("C63.2", null, RegionGroup.HeadNeckHandsFeetGenitalia)]
    [InlineData("C44.6", AreaClass.L, RegionGroup.TrunkArmsLegs)]
    [InlineData("C44.6", null, null)]
    [InlineData("C44.7", AreaClass.H, null)]
    [InlineData("C44.5", AreaClass.H, null)]
    [InlineData("C44.9", AreaClass.L, null)]
    public void A_group_that_the_case_does_not_decide_is_left_to_a_person(string site, AreaClass? area, RegionGroup? group) =>
        CaseUnits.GroupOf(Facts(site, area, null)).ShouldBe(group);

    [Fact]
    public void Blocks_are_counted_as_they_were_cut_whatever_was_read()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), [.. Enumerable.Range(0, 6).Select(i => Some.Block($"B{i}", "12:00-12:00", centre: true))]);
        CaseUnits.Of(surgicalCase.Case).ShouldBe(new CaseUnits(RegionGroup.HeadNeckHandsFeetGenitalia, 1, 0, 1));
        CaseUnits.Of(Some.Case().Case).ShouldBe(new CaseUnits(RegionGroup.HeadNeckHandsFeetGenitalia, 0, 0, 0));
    }

    [Fact]
    public void A_table_gives_the_clinic_s_own_code_and_price()
    {
        var table = CodeTable.Parse(["regionGroup,unit,code,price", "trunkArmsLegs,firstStage,S-1,410.50", "", "trunkArmsLegs,blockBeyondFive,S-3,"]);
        table.CodeOf(RegionGroup.TrunkArmsLegs, CountingUnit.FirstStage).ShouldBe(new UnitCode(RegionGroup.TrunkArmsLegs, CountingUnit.FirstStage, "S-1", 410.50m));
        table.CodeOf(RegionGroup.TrunkArmsLegs, CountingUnit.BlockBeyondFive)!.Price.ShouldBeNull();
        table.CodeOf(RegionGroup.HeadNeckHandsFeetGenitalia, CountingUnit.FirstStage).ShouldBeNull();
        table.CodeOf(null, CountingUnit.FirstStage).ShouldBeNull();
    }

    [Theory]
    [InlineData("unit,code", "", "Line 1")]
    [InlineData("regionGroup,unit,code,price", "trunk,firstStage,S-1,1", "Line 2")]
    [InlineData("regionGroup,unit,code,price", "trunkArmsLegs,first,S-1,1", "Line 2")]
    [InlineData("regionGroup,unit,code,price", "trunkArmsLegs,firstStage,,1", "Line 2")]
    [InlineData("regionGroup,unit,code,price", "trunkArmsLegs,firstStage,S-1,-1", "Line 2")]
    [InlineData("regionGroup,unit,code,price", "trunkArmsLegs,firstStage,S-1,1 000", "Line 2")]
    public void A_table_of_another_form_is_refused_by_its_line(string header, string line, string named) =>
        Should.Throw<FormatException>(() => CodeTable.Parse([header, line])).Message.ShouldStartWith(named);

    [Fact]
    public void A_unit_has_one_code() =>
        Should.Throw<FormatException>(() => CodeTable.Parse(["regionGroup,unit,code,price", "trunkArmsLegs,firstStage,S-1,", "trunkArmsLegs,firstStage,S-2,"])).Message.ShouldStartWith("Line 3");

    private static CaseFacts Facts(string site, AreaClass? area, AnatomicalPlane? plane) =>
        Some.Facts(areaClass: area, deepestPlane: plane) with { Site = Site.Of(site, null, null) };
}
