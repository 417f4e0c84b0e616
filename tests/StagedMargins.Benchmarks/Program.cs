using BenchmarkDotNet.Running;
using StagedMargins.Benchmarks.Audit;
using StagedMargins.Benchmarks.Ledger;
using StagedMargins.Benchmarks.Margins;
using StagedMargins.Benchmarks.Service;

// Run by hand, never by the tests, in Release:
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- margins
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- writes "Host=…;Username=postgres"
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- reads "Host=…;Username=postgres"
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- ledger sqlite new.db
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- postgres "Host=…" 1000000
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- sqlite trial.db 100000
switch (args)
{
    case ["margins"]:
        BenchmarkRunner.Run<MarginsBenchmark>();
        return 0;
    case [("postgres" or "sqlite") and var engine, var place, var number] when int.TryParse(number, out var count):
        await AuditTrial.RunAsync(engine, place, count);
        return 0;
    case ["writes", var server]:
        await WriteTrial.RunAsync(server);
        return 0;
    case ["reads", var server]:
        await ReadTrial.RunAsync(server);
        return 0;
    case ["ledger", ("postgres" or "sqlite") and var kind, var empty]:
        await LedgerTrial.RunAsync(kind, empty);
        return 0;
    case ["bare", var address, var connection]:
        await BareService.ServeAsync(address, connection);
        return 0;
    default:
        await Console.Error.WriteLineAsync("Say: margins, or writes SERVER, or reads SERVER, or ledger postgres CONNECTION, or ledger sqlite FILE, or postgres CONNECTION CASES, or sqlite FILE CASES. A database is filled where it is empty; on a server, one is made.");
        return 1;
}
