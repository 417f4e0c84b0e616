using CsCheck;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

public class LayoutTests
{
    public static TheoryData<string, MapDetail> Maps => [.. SampleMaps.Names.SelectMany(name => Enum.GetValues<MapDetail>().Select(detail => (name, detail)))];

    [Theory]
    [MemberData(nameof(Maps))]
    public void No_text_lies_over_another(string trial, MapDetail detail)
    {
        Over(MapScene.Of(SampleMaps.Of(trial), detail)).ShouldBeEmpty();
    }

    [Theory]
    [MemberData(nameof(Maps))]
    public void Every_text_lies_inside_the_margins(string trial, MapDetail detail)
    {
        var scene = MapScene.Of(SampleMaps.Of(trial), detail);
        var page = new SceneBox(0, 0, scene.Width, scene.Height).Grown(-Measures.For(detail).Margin / 2);

        scene.Texts().Where(text => !page.Contains(text.Box)).Select(text => text.Text).ShouldBeEmpty();
    }

    [Theory]
    [MemberData(nameof(Maps))]
    public void Every_shape_lies_inside_the_picture(string trial, MapDetail detail)
    {
        var scene = MapScene.Of(SampleMaps.Of(trial), detail);
        var page = new SceneBox(0, 0, scene.Width, scene.Height);

        scene.Groups.Where(group => group.Points().Any()).ShouldAllBe(group => page.Contains(SceneBox.Around(group.Points())));
    }

    [Theory]
    [MemberData(nameof(Maps))]
    public void No_leader_runs_through_a_numeral_or_the_words_of_a_label(string trial, MapDetail detail)
    {
        ThroughWords(MapScene.Of(SampleMaps.Of(trial), detail)).ShouldBeEmpty();
    }

    [Theory]
    [MemberData(nameof(Maps))]
    public void Every_mark_has_its_numbers_in_the_key(string trial, MapDetail detail)
    {
        var scene = MapScene.Of(SampleMaps.Of(trial), detail);
        var key = string.Join('\n', scene.WithRole(SceneRole.Key).Select(row => row.Name));

        // Neighbouring parts, told apart by stage on the face, are one arc in the key.
        foreach (var mark in scene.Groups.Where(group => group.Arc is { IsWhole: false } && group.Place is not null && !group.Name.Contains("earlier")))
        {
            key.ShouldContain(mark.Arc!.Value.InLabel().Split(' ')[0]);
        }

        scene.Groups.Any(group => group.Place == MarkPlace.Centre).ShouldBe(key.Contains($", {Terms.Centre}"));
    }

    [Fact]
    public void No_case_makes_texts_lie_over_one_another_or_leave_the_picture() => RandomCase.Any.Sample(
        to =>
        {
            foreach (var (cumulative, detail) in new[] { (false, MapDetail.Full), (true, MapDetail.Full), (true, MapDetail.Compact) })
            {
                var scene = MapScene.Of(to.Map(cumulative), detail);
                Over(scene).ShouldBeEmpty();
                ThroughWords(scene).ShouldBeEmpty();
                var page = new SceneBox(0, 0, scene.Width, scene.Height);
                scene.Texts().ShouldAllBe(text => page.Contains(text.Box));
                scene.Groups.Where(group => group.Points().Any()).ShouldAllBe(group => page.Contains(SceneBox.Around(group.Points())));
            }
        },
        iter: 40);

    [Fact]
    public void Overlapping_boxes_are_seen_to_overlap()
    {
        var style = TextStyle.Bold(20, Palette.Text);
        var one = style.Write("07:30", new ScenePoint(100, 100));

        one.Box.Overlaps(style.Write("09:00", new ScenePoint(one.Box.Right - 1, 100)).Box).ShouldBeTrue();
        one.Box.Overlaps(style.Write("09:00", new ScenePoint(one.Box.Right + 1, 100)).Box).ShouldBeFalse();
    }

    [Fact]
    public void A_paragraph_keeps_every_letter_and_no_line_is_wider_than_it_may_be()
    {
        var style = TextStyle.Regular(16, Palette.Text);
        Gen.Select(Gen.String[Gen.Char["abcdefgMW 0123–:,.  "], 0, 200], Gen.Double[40, 400]).Sample((text, width) =>
        {
            var lines = Paragraph.Of(text, style, width).Lines;
            return lines.All(line => style.WidthOf(line) <= width)
                && string.Concat(lines).Replace(" ", "", StringComparison.Ordinal) == text.Replace(" ", "", StringComparison.Ordinal);
        });
    }

    [Fact]
    public void A_text_cut_short_ends_in_an_ellipsis_that_fits()
    {
        var style = TextStyle.Regular(16, Palette.Text);
        var paragraph = Paragraph.Of(string.Concat(Enumerable.Repeat("many words ", 60)), style, 200, 3);

        paragraph.Lines.Count.ShouldBe(3);
        paragraph.Lines[^1].ShouldEndWith("…");
        style.WidthOf(paragraph.Lines[^1]).ShouldBeLessThanOrEqualTo(200);
    }

    private static IEnumerable<string> Over(MapScene scene)
    {
        var texts = scene.Texts().ToList();
        return texts.SelectMany((one, i) => texts.Skip(i + 1).Where(other => one.Box.Overlaps(other.Box)).Select(other => $"'{one.Text}' and '{other.Text}'"));
    }

    private static IEnumerable<string> ThroughWords(MapScene scene)
    {
        var words = scene.WithRole(SceneRole.Numeral).Concat(scene.WithRole(SceneRole.SideLabel)).SelectMany(group => group.Texts).ToList();
        return scene.WithRole(SceneRole.SideLabel)
            .SelectMany(label => Along(label.Paths.First().Contours[0].Points))
            .SelectMany(at => words.Where(text => text.Box.Contains(new SceneBox(at.X, at.Y, at.X, at.Y))))
            .Select(text => text.Text)
            .Distinct();
    }

    private static IEnumerable<ScenePoint> Along(IReadOnlyList<ScenePoint> line) =>
        from i in Enumerable.Range(1, line.Count - 1)
        from step in Enumerable.Range(0, 101)
        select new ScenePoint(
            line[i - 1].X + (step / 100.0 * (line[i].X - line[i - 1].X)),
            line[i - 1].Y + (step / 100.0 * (line[i].Y - line[i - 1].Y)));
}
