using StagedMargins.Core.Tests.Oracle;

namespace StagedMargins.Web.Tests.Features.Margins;

/// <summary>Steps of a case by dice.</summary>
internal static class PlayedByChance
{
    /// <summary>Takes a layer, adds blocks and reads most of them.</summary>
    public static async Task StageAsync(ServedTwin twin, Director director, Dice dice)
    {
        var pieces = director.Layer();
        var stage = new OracleStage(pieces);
        var blocks = director.BlocksFor(pieces);
        var late = blocks.Where(block => !stage.Allows(block) || dice.Chance(10)).ToList();
        await twin.TakeAsync(pieces, [.. blocks.Except(late)]);
        var number = twin.Oracle.Stages.Count - 1;
        foreach (var block in late)
        {
            await twin.AddAsync(number, block);
        }

        foreach (var block in twin.Oracle.Stages[number].Blocks.Where(_ => !dice.Chance(8)).ToList())
        {
            await twin.ReadAsync(number, block, director.ReadingOf(block));
        }
    }

    /// <summary>A few later steps: blocks added, readings amended.</summary>
    /// <returns>True where one of them left a case not clear that was clear before it.</returns>
    public static async Task<bool> LaterAsync(ServedTwin twin, Director director, Dice dice, bool canAdd)
    {
        var unclears = false;
        for (var step = dice.Below(4); step > 0; step--)
        {
            var number = dice.Below(twin.Oracle.Stages.Count);
            var stage = twin.Oracle.Stages[number];
            var wasClear = twin.Oracle.Now.Word == "cleared";
            if (canAdd && dice.Chance(25))
            {
                await twin.AddAsync(number, director.AnyBlock(stage.Pieces.Count));
            }

            var readable = stage.Blocks.Where(block => canAdd || block.Readings.Count > 0).ToList();
            if (readable.Count > 0)
            {
                var block = readable[dice.Below(readable.Count)];
                await twin.ReadAsync(number, block, director.ReadingOf(block));
            }

            unclears |= wasClear && twin.Oracle.Now.Word != "cleared";
        }

        return unclears;
    }
}
