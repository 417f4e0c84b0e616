using StagedMargins.Core.Tests.Oracle;

namespace StagedMargins.Web.Tests.Features.Margins;

/// <summary>Steps of a case at random.</summary>
internal static class RandomCaseSteps
{
    /// <summary>Takes a layer, adds blocks and reads most of them.</summary>
    public static async Task StageAsync(ServedCaseWithOracle compared, CaseGenerator generator, RandomDraws random)
    {
        var pieces = generator.Layer();
        var stage = new OracleStage(pieces);
        var blocks = generator.BlocksFor(pieces);
        var late = blocks.Where(block => !stage.Allows(block) || random.Chance(10)).ToList();
        await compared.TakeAsync(pieces, [.. blocks.Except(late)]);
        var number = compared.Oracle.Stages.Count - 1;
        foreach (var block in late)
        {
            await compared.AddAsync(number, block);
        }

        foreach (var block in compared.Oracle.Stages[number].Blocks.Where(_ => !random.Chance(8)).ToList())
        {
            await compared.ReadAsync(number, block, generator.ReadingOf(block));
        }
    }

    /// <summary>A few later steps: blocks added, readings amended.</summary>
    /// <returns>True where one of them left a case not clear that was clear before it.</returns>
    public static async Task<bool> LaterAsync(ServedCaseWithOracle compared, CaseGenerator generator, RandomDraws random, bool canAdd)
    {
        var unclears = false;
        for (var step = random.Below(6); step > 0; step--)
        {
            var number = random.Below(compared.Oracle.Stages.Count);
            var stage = compared.Oracle.Stages[number];
            var wasClear = compared.Oracle.Now.Word == "cleared";
            if (canAdd && random.Chance(25))
            {
                await compared.AddAsync(number, stage.Blocks.Count > 0 && random.Chance(40) ? generator.Replacing(stage) : generator.AnyBlock(stage.Pieces.Count));
            }

            if (stage.Blocks.Count > 0)
            {
                await OneAsync(compared, generator, random, number, stage.Blocks[random.Below(stage.Blocks.Count)]);
            }

            unclears |= wasClear && compared.Oracle.Now.Word != "cleared";
        }

        return unclears;
    }

    private static Task OneAsync(ServedCaseWithOracle compared, CaseGenerator generator, RandomDraws random, int stage, OracleBlock block) => random.Below(8) switch
    {
        0 when block.Counting is not null => compared.WithdrawAsync(stage, block),
        1 => compared.ReportAsync(stage, block, generator.EvidenceOf(block)),
        2 => compared.CorrectAsync(stage, block, generator.Corrected(block)),
        _ => compared.ReadAsync(stage, block, generator.ReadingOf(block)),
    };
}
