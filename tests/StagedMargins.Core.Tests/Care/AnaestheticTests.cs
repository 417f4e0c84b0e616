using CsCheck;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Care;

/// <summary>
/// Doses added up against the label maximum. Lidocaine: US product labelling, from memory: with adrenaline 7 mg/kg and not over
/// 500 mg, plain 4.5 mg/kg and not over 300 mg. 1 % is 10 mg/mL: the definition of a percentage of mass in volume, 1 g in 100 mL.
/// </summary>
public sealed class AnaestheticTests
{
    [Theory]
    [InlineData("1", "6", "60")]
    [InlineData("0.5", "2.5", "12.5")]
    [InlineData("2", "1.8", "36")]
    [InlineData("4", "1.7", "68")]
    public void One_per_cent_is_ten_milligrams_in_each_millilitre(string percent, string volume, string mg) =>
        WithWeight(null).Given(LocalAnaesthetic.Lidocaine, Number(percent), Number(volume), true).Case.Anaesthetic.TotalMg.ShouldBe(Number(mg));

    [Theory]
    [InlineData(50_000, true, "350")]
    [InlineData(50_000, false, "225")]
    [InlineData(100_000, true, "500")]
    [InlineData(100_000, false, "300")]
    [InlineData(null, true, "500")]
    [InlineData(null, false, "300")]
    public void The_maximum_follows_the_weight_up_to_the_most_of_the_label(int? grams, bool adrenaline, string maximum)
    {
        var total = WithWeight(grams).Given(LocalAnaesthetic.Lidocaine, 1, 6, adrenaline).Case.Anaesthetic;
        total.MaximumMg.ShouldBe(Number(maximum));
        total.ShareOfMaximum.ShouldBe(Math.Round(60 / Number(maximum), 12));
        total.MgPerKg.ShouldBe(60_000m / grams);
    }

    [Theory]
    [InlineData("27.9", AnaestheticLevel.None)]
    [InlineData("28", AnaestheticLevel.Caution)]
    [InlineData("34.999", AnaestheticLevel.Caution)]
    [InlineData("35", AnaestheticLevel.Alert)]
    [InlineData("60", AnaestheticLevel.Alert)]
    public void Caution_stands_from_80_per_cent_and_alert_from_100(string volume, AnaestheticLevel level) =>
        WithWeight(50_000).Given(LocalAnaesthetic.Lidocaine, 1, Number(volume), true).Case.Anaesthetic.Level.ShouldBe(level);

    [Fact]
    public void Three_thirds_of_the_maximum_are_all_of_it()
    {
        var surgicalCase = WithWeight(null);
        foreach (var _ in Enumerable.Range(0, 3))
        {
            surgicalCase.Given(LocalAnaesthetic.Lidocaine, 1, 10, false);
        }

        surgicalCase.Case.Anaesthetic.ShareOfMaximum.ShouldBe(1m);
        surgicalCase.Case.Anaesthetic.Level.ShouldBe(AnaestheticLevel.Alert);
    }

    [Fact]
    public void A_mixture_counts_each_dose_against_its_own_maximum_and_adds_the_shares()
    {
        // 150 of 300 mg plain and 250 of 500 mg with adrenaline: half and half.
        var total = WithWeight(null).Given(LocalAnaesthetic.Lidocaine, 1, 15, false).Given(LocalAnaesthetic.Lidocaine, 1, 25, true).Case.Anaesthetic;
        total.ShareOfMaximum.ShouldBe(1m);
        total.TotalMg.ShouldBe(400m);
        total.MaximumMg.ShouldBe(400m);
        total.Level.ShouldBe(AnaestheticLevel.Alert);
    }

    [Fact]
    public void A_mixture_of_agents_adds_the_shares_too()
    {
        // Half of the most of bupivacaine and a tenth of the most of lidocaine.
        var total = WithWeight(null).Given(LocalAnaesthetic.Bupivacaine, 0.5m, 17.5m, false).Given(LocalAnaesthetic.Lidocaine, 1, 5, true).Case.Anaesthetic;
        total.ShareOfMaximum.ShouldBe((87.5m / 175) + 0.1m);
        WithWeight(null).Case.Anaesthetic.ShareOfMaximum.ShouldBe(0m);
    }

    [Fact]
    public void Before_any_dose_there_is_nothing_to_say()
    {
        var total = WithWeight(50_000).Case.Anaesthetic;
        (total.TotalMg, total.MaximumMg, total.Level).ShouldBe((0m, null, AnaestheticLevel.None));
    }

    [Fact]
    public void A_void_dose_stays_in_the_record_and_does_not_count()
    {
        var surgicalCase = WithWeight(null).Given(LocalAnaesthetic.Lidocaine, 1, 40, false).Given(LocalAnaesthetic.Lidocaine, 1, 4, false);
        surgicalCase.Case.Anaesthetic.Level.ShouldBe(AnaestheticLevel.Alert);
        Refusal.OfEntry("reason", () => surgicalCase.VoidDose(1, "  ", Some.Surgeon, Some.At(20)));
        surgicalCase.VoidDose(1, "volume misread", Some.Surgeon, Some.At(20));
        surgicalCase.Case.Anaesthetic.TotalMg.ShouldBe(40m);
        surgicalCase.Case.Doses.Count.ShouldBe(2);
        Refusal.OfStep("alreadyVoid", () => surgicalCase.VoidDose(1, "again", Some.Surgeon, Some.At(21)));
        Should.Throw<NotInRecordException>(() => surgicalCase.VoidDose(3, "none", Some.Surgeon, Some.At(21)));
    }

    [Theory]
    [InlineData("0", "5", "percent")]
    [InlineData("10.001", "5", "percent")]
    [InlineData("0.0005", "5", "percent")]
    [InlineData("1", "0", "volumeMl")]
    [InlineData("1", "-1", "volumeMl")]
    [InlineData("1", "500.001", "volumeMl")]
    [InlineData("1", "0.0001", "volumeMl")]
    public void A_strength_or_volume_that_no_syringe_holds_is_refused(string percent, string volume, string field) =>
        Refusal.OfEntry(field, () => WithWeight(null).Given(LocalAnaesthetic.Lidocaine, Number(percent), Number(volume), true));

    [Fact]
    public void Every_agent_has_a_maximum_with_and_without_adrenaline_and_says_where_it_comes_from()
    {
        foreach (var (agent, adrenaline) in from agent in Enum.GetValues<LocalAnaesthetic>() from adrenaline in new[] { true, false } select (agent, adrenaline))
        {
            var maximum = LabelMaximum.For(agent, adrenaline);
            maximum.Source.ShouldContain("from memory");
            maximum.For(1_000).ShouldBe(maximum.MgPerKg);
            maximum.For(null).ShouldBe(maximum.MostMg);
            LabelMaximum.For(agent, true).For(70_000).ShouldBeGreaterThanOrEqualTo(LabelMaximum.For(agent, false).For(70_000));
        }
    }

    [Fact]
    public void Doses_given_in_any_parts_add_up_to_the_same() => Gen.Int[1, 30_000].Array[1, 12].Sample(parts =>
    {
        var (whole, split) = (WithWeight(61_000), WithWeight(61_000));
        foreach (var part in parts)
        {
            split.Given(LocalAnaesthetic.Lidocaine, 1, part / 1000m, true);
        }

        whole.Given(LocalAnaesthetic.Lidocaine, 1, parts.Sum() / 1000m, true);
        split.Case.Anaesthetic.ShouldBe(whole.Case.Anaesthetic);
    });

    private static decimal Number(string text) => decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);

    private static CaseLog WithWeight(int? grams) => new(
        Some.Clinic, "2026-0142", new NewCase("C-20417", Some.Surgeon, Some.Facts() with { WeightGrams = grams }, "toward the vertex"), SizeBoundary.BelongsAbove, Some.Histotech, Some.At(0));
}
