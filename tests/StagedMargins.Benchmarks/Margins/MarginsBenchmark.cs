using BenchmarkDotNet.Attributes;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Benchmarks.Margins;

/// <summary>
/// The state of both margins with the last stage's alerts, without the defect's shape: by the program, by a plain loop over the 720
/// minutes of the clock face, and by laying polygons over one another.
/// </summary>
[InProcess]
[MemoryDiagnoser]
public class MarginsBenchmark
{
    private readonly SurgicalCase made = BenchmarkCase.Make().Case;
    private IReadOnlyList<MarginCells> cells = [];
    private IReadOnlyList<MarginPolygons> polygons = [];

    [GlobalSetup]
    public void Setup()
    {
        cells = [.. CaseMargins.Both.Select(margin => new MarginCells(made.Stages, margin))];
        polygons = [.. CaseMargins.Both.Select(margin => new MarginPolygons(made.Stages, margin))];
        var program = Program();
        foreach (var margin in CaseMargins.Both)
        {
            var minutes = program[margin].Outstanding.Arcs.Minutes;
            var (byCells, byPolygons) = (cells[(int)margin].Outstanding(), polygons[(int)margin].OutstandingMinutes());
            if (byCells != minutes || Math.Abs(byPolygons - minutes) > 0.01)
            {
                throw new InvalidOperationException($"The three ways differ on the {margin} margin: {minutes}, {byCells} and {byPolygons} minutes.");
            }
        }
    }

    [Benchmark]
    public CaseMargins Program() => made.Margins(BenchmarkCase.Overlap);

    [Benchmark(Baseline = true)]
    public int Loop() => cells[0].Outstanding() + cells[1].Outstanding();

    [Benchmark]
    public double Overlay() => polygons[0].OutstandingMinutes() + polygons[1].OutstandingMinutes();
}
