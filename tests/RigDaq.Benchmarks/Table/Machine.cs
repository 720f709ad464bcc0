using System.Globalization;
using System.Runtime.InteropServices;

namespace RigDaq.Benchmarks.Table;

/// <summary>Where and under what load a table was made.</summary>
/// <param name="Processor">Its name.</param>
/// <param name="Cores">As many as this process may use.</param>
/// <param name="MemoryGigabytes">Of the machine.</param>
/// <param name="Platform">Operating system and runtime.</param>
/// <param name="LoadBefore">The load over one minute when the run began.</param>
/// <param name="LoadAfter">The same when it ended; the run itself makes one to two of it.</param>
/// <param name="Day">The day, and how long it took.</param>
/// <param name="Sizes">Which sizes were run.</param>
internal sealed record Machine(string Processor, int Cores, double MemoryGigabytes, string Platform, double LoadBefore, double LoadAfter,
    string Day, string Sizes)
{
    /// <summary>The load over one minute.</summary>
    public static double Load() => File.Exists("/proc/loadavg")
        ? double.Parse(File.ReadAllText("/proc/loadavg").Split(' ')[0], CultureInfo.InvariantCulture) : 0;

    public static Machine Now(double loadBefore, TimeSpan took, bool whole) => new(
        ProcessorName(), Environment.ProcessorCount, GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / 1e9,
        $"{RuntimeInformation.OSDescription}, .NET {Environment.Version}",
        loadBefore, Load(),
        string.Create(CultureInfo.InvariantCulture, $"{DateTime.UtcNow:yyyy-MM-dd}, {took.TotalMinutes:0.0} min"),
        whole ? "whole" : "short");

    private static string ProcessorName() => !File.Exists("/proc/cpuinfo") ? "unknown"
        : File.ReadLines("/proc/cpuinfo").FirstOrDefault(line => line.StartsWith("model name", StringComparison.Ordinal))?
            .Split(':', 2)[1].Trim() ?? "unknown";
}
