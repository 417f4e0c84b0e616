using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class PieceTests
{
    private static readonly ClockArc Arc = Some.Arc("07:30-09:00");
    private static readonly Length Width = Some.Mm(2);
    private static readonly Outline Outline = Some.Ellipse();

    [Fact]
    public void A_whole_layer_renews_both_margins_all_round_with_the_centre()
    {
        Some.Whole().Renews(Margin.Peripheral).ShouldBe(MarginRegion.WholePeripheral);
        Some.Whole().Renews(Margin.Deep).ShouldBe(MarginRegion.WholeDeep);
        Some.Whole().Tissue().ShouldBe(MarginRegion.WholeDeep);
    }

    [Fact]
    public void A_rim_renews_the_edge_alone_and_shows_a_floor_of_its_own()
    {
        var rim = Some.Rim("07:30-09:00");
        rim.Renews(Margin.Peripheral).ShouldBe(Some.Region("07:30-09:00"));
        rim.Renews(Margin.Deep).ShouldBe(MarginRegion.None);
        rim.Exposes(Margin.Deep).ShouldBe(Some.Region("07:30-09:00"));
    }

    [Theory]
    [InlineData("07:30-09:00", true, new[] { "07:30-09:00", "centre" })]
    [InlineData("07:30-09:00", false, new[] { "07:30-09:00" })]
    [InlineData(null, true, new[] { "centre" })]
    public void A_base_renews_the_floor_alone(string? arc, bool centre, string[] places)
    {
        var floor = Some.Base(arc, centre);
        floor.Renews(Margin.Peripheral).ShouldBe(MarginRegion.None);
        floor.Renews(Margin.Deep).ShouldBe(Some.Region(places));
        floor.Exposes(Margin.Peripheral).ShouldBe(MarginRegion.None);
    }

    [Fact]
    public void A_rim_with_base_renews_both_over_its_arc()
    {
        var both = Some.RimAndBase("07:30-09:00", centre: true);
        both.Renews(Margin.Peripheral).ShouldBe(Some.Region("07:30-09:00"));
        both.Renews(Margin.Deep).ShouldBe(Some.Region("07:30-09:00", "centre"));
        Some.RimAndBase("07:30-09:00").Renews(Margin.Deep).ShouldBe(Some.Region("07:30-09:00"));
    }

    [Fact]
    public void A_whole_layer_needs_its_outline_and_nothing_else()
    {
        Refusal.OfEntry("outline", () => _ = new Piece(PieceKind.Whole, null, false, null, null, null));
        Refusal.OfEntry("arc", () => _ = new Piece(PieceKind.Whole, Arc, false, null, Outline, null));
        Refusal.OfEntry("widthMm", () => _ = new Piece(PieceKind.Whole, null, false, Width, Outline, null));
    }

    [Theory]
    [InlineData(PieceKind.Rim)]
    [InlineData(PieceKind.RimAndBase)]
    public void A_rim_needs_its_arc_and_width_and_has_no_outline(PieceKind kind)
    {
        Refusal.OfEntry("arc", () => _ = new Piece(kind, null, false, Width, null, null));
        Refusal.OfEntry("widthMm", () => _ = new Piece(kind, Arc, false, null, null, null));
        Refusal.OfEntry("outline", () => _ = new Piece(kind, Arc, false, Width, Outline, null));
    }

    [Fact]
    public void A_rim_does_not_take_the_centre() =>
        Refusal.OfEntry("centre", () => _ = new Piece(PieceKind.Rim, Arc, true, Width, null, null));

    [Fact]
    public void A_base_lies_somewhere_and_has_no_rim()
    {
        Refusal.OfEntry("arc", () => _ = new Piece(PieceKind.Base, null, false, null, null, null));
        Refusal.OfEntry("widthMm", () => _ = new Piece(PieceKind.Base, Arc, false, Width, null, null));
        Refusal.OfEntry("outline", () => _ = new Piece(PieceKind.Base, Arc, false, null, Outline, null));
    }

    [Fact]
    public void What_is_kept_is_what_was_given()
    {
        var piece = new Piece(PieceKind.RimAndBase, Arc, true, Width, null, AnatomicalPlane.Fascia);
        (piece.Kind, piece.Arc, piece.Centre, piece.Width, piece.Outline, piece.Plane)
            .ShouldBe((PieceKind.RimAndBase, Arc, true, Width, null, AnatomicalPlane.Fascia));
    }
}
