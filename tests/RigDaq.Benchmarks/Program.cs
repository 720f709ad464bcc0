using RigDaq.Benchmarks;
using RigDaq.Benchmarks.Storage;

// "report" tells what the report of a thousand runs costs, "storage" holds LiteDB and SQLite side by side; anything else names benchmarks.
if (args is ["report"]) ReportCost.Measure(Console.Out);
else if (args is ["storage"]) StorageCost.Measure(Console.Out);
else if (args is [StoreProcess.Mode, ..]) StoreProcess.Run(args);
else BenchmarkDotNet.Running.BenchmarkSwitcher.FromAssembly(typeof(StoreRunBenchmark).Assembly).Run(args);
