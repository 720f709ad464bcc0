BenchmarkDotNet.Running.BenchmarkSwitcher.FromAssembly(typeof(Program).Assembly).Run(args);

/// <summary>Runs the benchmarks named on the command line.</summary>
public partial class Program;
