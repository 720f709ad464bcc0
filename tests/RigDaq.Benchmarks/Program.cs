using RigDaq.Benchmarks;

// "report" tells what the report of a thousand runs costs; anything else names benchmarks.
if (args is ["report"]) ReportCost.Measure(Console.Out);
else BenchmarkDotNet.Running.BenchmarkSwitcher.FromAssembly(typeof(StoreRunBenchmark).Assembly).Run(args);
