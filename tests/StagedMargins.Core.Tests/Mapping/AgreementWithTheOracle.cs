using System.Collections.Concurrent;
using CsCheck;
using StagedMargins.Core.Tests.Oracle;

namespace StagedMargins.Core.Tests.Mapping;

/// <summary>Whole random cases, kept by the program and by an oracle that works cell by cell; both must agree after every step.</summary>
public sealed class AgreementWithTheOracle
{
    private const int Cases = 250;

    private static readonly Gen<int[]> Rolls = Gen.Int[0, 9_999].Array[20, 700];

    private static readonly string[] Everything =
    [
        "awaitingReadings", "tumourOutstanding", "cleared",
        "leftBehind", "thinOverlap", "unmapped", "beyondTarget",
        "first reading", "amendment", "recall",
        "refused a layer that leaves unread tissue", "refused a block off the tissue", "refused a reading that can't be right", "refused ending as cleared",
    ];

    [Fact]
    public void Program_and_oracle_agree_after_every_step_of_any_case()
    {
        var reached = new ConcurrentDictionary<string, int>();
        Rolls.Sample(
            rolls =>
            {
                foreach (var what in Play(new Dice(rolls)).Reached)
                {
                    reached.AddOrUpdate(what, 1, (_, count) => count + 1);
                }
            },
            iter: Cases);
        reached.Keys.Order(StringComparer.Ordinal).ShouldBe(Everything.Order(StringComparer.Ordinal));
    }

    private static TwinCase Play(Dice dice)
    {
        var twin = new TwinCase(dice.Of(15, 0, dice.Below(121)));
        var director = new Director(dice, twin.Oracle);
        var stages = dice.Between(1, 6);
        for (var stage = 0; stage < stages; stage++)
        {
            PlayStage(twin, director, dice);
        }

        PlayLater(twin, director, dice, canAdd: true);
        twin.End();
        PlayLater(twin, director, dice, canAdd: false);
        twin.CompareEveryStage();
        return twin;
    }

    private static void PlayStage(TwinCase twin, Director director, Dice dice)
    {
        var pieces = director.Layer();
        var stage = new OracleStage(pieces);
        var blocks = director.BlocksFor(pieces);
        var late = blocks.Where(block => !stage.Allows(block) || dice.Chance(10)).ToList();
        twin.Take(pieces, [.. blocks.Except(late)]);
        var number = twin.Oracle.Stages.Count - 1;
        foreach (var block in late)
        {
            twin.Add(number, block);
        }

        foreach (var block in twin.Oracle.Stages[number].Blocks.Where(_ => !dice.Chance(8)))
        {
            twin.Read(number, block, director.ReadingOf(block));
        }
    }

    private static void PlayLater(TwinCase twin, Director director, Dice dice, bool canAdd)
    {
        // Few amendments of a closed case leave it not clear; with more of them a run does not miss that by chance.
        for (var step = canAdd ? dice.Below(4) : dice.Between(4, 12); step > 0; step--)
        {
            var number = dice.Below(twin.Oracle.Stages.Count);
            var stage = twin.Oracle.Stages[number];
            if (canAdd && dice.Chance(25))
            {
                twin.Add(number, director.AnyBlock(stage.Pieces.Count));
            }

            var readable = stage.Blocks.Where(block => canAdd || block.Readings.Count > 0).ToList();
            if (readable.Count > 0)
            {
                var block = readable[dice.Below(readable.Count)];
                twin.Read(number, block, director.ReadingOf(block));
            }
        }
    }
}
