using System.Diagnostics;
using RigDaq.Benchmarks;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.StopLatency;
using RigDaq.Benchmarks.Storage;
using RigDaq.Benchmarks.Table;

// Started by itself for the stop's latency: the daemon's rigs in a process of their own.
if (args is [StopHosts.Role, .. string[] terminals]) return await StopHosts.RunAsync(terminals);


// "storage" holds LiteDB and SQLite side by side, some four minutes (docs/decisions/storage.md): a choice's figures, not the table's.
if (args is ["storage"] or [StoreProcess.Mode, ..])
{
    if (args.Length == 1) StorageCost.Measure(Console.Out);
    else StoreProcess.Run(args);
    return 0;
}

// tools/bench.sh [--only PART] [--whole] [--write]
string root = args[0];
string? only = args.SkipWhile(argument => argument != "--only").Skip(1).FirstOrDefault();
bool whole = args.Contains("--whole");
(string Name, Func<Bench, IEnumerable<Measured>> Measure)[] parts = [.. Parts.All.Where(part => only is null || part.Name == only)];
if (parts.Length == 0)
{
    Bench.Say($"There is no part “{only}”: {string.Join(", ", Parts.All.Select(part => part.Name))}.");
    return 2;
}

double load = Machine.Load();
long began = Stopwatch.GetTimestamp();
var lines = new List<Measured>();
using (var bench = new Bench(root, whole))
{
    foreach ((string name, Func<Bench, IEnumerable<Measured>> measure) in parts)
    {
        Bench.Say($"{name} …");
        long partBegan = Stopwatch.GetTimestamp();
        lines.AddRange(measure(bench));
        Bench.Say($"  {Stopwatch.GetElapsedTime(partBegan).TotalSeconds:0} s");
    }
}

Machine machine = Machine.Now(load, Stopwatch.GetElapsedTime(began), whole);
Console.WriteLine(Page.Text(machine, lines));
string last = Path.Combine(root, "docs", "performance.json");
foreach (string fallen in LastTable.Fallen(last, lines)) Console.WriteLine($"Fallen by a third or more: {fallen}");
if (args.Contains("--write"))
{
    if (only is null) Page.Write(Path.Combine(root, "docs", "performance.md"), machine, lines);
    LastTable.Write(last, machine, lines);
}

return 0;
