using StagedMargins.Core;
using StagedMargins.Core.Audit;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Audit;

namespace StagedMargins.Benchmarks.Audit;

/// <summary>Summaries of invented ended cases, the same ones for the same seed: five years, forty surgeons, about 1.7 stages a case.</summary>
internal static class InventedCases
{
    internal const int Surgeons = 40;

    internal static readonly DateTime First = new(2021, 1, 1, 0, 0, 0, DateTimeKind.Utc);

    private const int Days = 5 * 365;

    private static readonly string[] Areas = ["H", "M", "L"];

    internal static Guid Clinic { get; } = new(1, 0, 0, new byte[8]);

    internal static Guid Surgeon(int number) => new(2, (short)number, 0, new byte[8]);

    internal static IEnumerable<(AuditCase Case, AuditStage[] Stages)> Make(int count)
    {
        var random = new Random(20_260_303);
        for (var i = 0; i < count; i++)
        {
            yield return One(i, random);
        }
    }

    private static (AuditCase Case, AuditStage[] Stages) One(int number, Random random)
    {
        var id = new Guid(3, 0, 0, BitConverter.GetBytes((long)number));

        // 56, 32, 8 and 4 of 100 cases with 1, 2, 3 and 4 or more stages, as registries publish it.
        var stages = random.Next(100) switch { < 52 => 1, < 84 => 2, < 94 => 3, < 98 => 4, _ => 5 + random.Next(3) };
        var blocks = stages + random.Next(1, 4);
        var lesion = 20_000_000L + random.NextInt64(300_000_000);
        var isCleared = random.Next(100) < 97;
        var row = new AuditCase
        {
            ClinicId = Clinic,
            CaseId = id,
            CaseNumber = FormattableString.Invariant($"N-{number:0000000}"),
            EndedUtc = First.AddMinutes(random.Next(Days * 24 * 60)),
            SurgeonId = Surgeon(random.Next(Surgeons)),
            AreaClass = Areas[random.Next(3)],
            Tumour = EnumNames<TumourGroup>.Of((TumourGroup)random.Next(4)),
            SizeBand = EnumNames<SizeBand>.Of((SizeBand)random.Next(5)),
            Outcome = isCleared ? CaseOutcome.Cleared : CaseOutcome.StoppedWithTumour,
            Stages = stages,
            Blocks = blocks,
            ClearedStage = isCleared ? stages : null,
            Readings = blocks + random.Next(2),
            Unreadable = random.Next(30) == 0 ? 1 : 0,
            Amendments = random.Next(25) == 0 ? 1 : 0,
            Recall = random.Next(500) == 0 ? 1 : 0,
            LesionUm2 = lesion,
            DefectUm2 = (long)(lesion * (1.5 + random.NextDouble())),
            SparedUm2 = random.NextInt64(-50_000_000, 150_000_000),
        };
        return (row, [.. Enumerable.Range(1, stages).Select(n => new AuditStage { ClinicId = Clinic, CaseId = id, StageNumber = n, TurnaroundMinutes = random.Next(50) == 0 ? null : 20 + random.Next(60) })]);
    }
}
