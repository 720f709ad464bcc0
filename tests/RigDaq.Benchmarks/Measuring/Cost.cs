using System.Diagnostics;

namespace RigDaq.Benchmarks.Measuring;

/// <summary>What a piece of work costs.</summary>
/// <param name="Seconds">Of the clock, the median of several tries: others on the machine make single ones long.</param>
/// <param name="ProcessorSeconds">Of all cores, the median too: where others work beside it, it says more of work on one core.</param>
/// <param name="AllocatedBytes">By all threads, of the same try.</param>
internal readonly record struct Cost(double Seconds, double ProcessorSeconds, long AllocatedBytes)
{
    /// <summary>Once, cold or warm as it is.</summary>
    public static Cost Once(Action work)
    {
        TimeSpan processor = Environment.CpuUsage.TotalTime;
        long allocated = GC.GetTotalAllocatedBytes(precise: true);
        long began = Stopwatch.GetTimestamp();
        work();
        double seconds = Stopwatch.GetElapsedTime(began).TotalSeconds;
        long bytes = GC.GetTotalAllocatedBytes(precise: true) - allocated;
        return new Cost(seconds, (Environment.CpuUsage.TotalTime - processor).TotalSeconds, bytes);
    }

    /// <summary>The median of several tries after one that does not count.</summary>
    public static Cost Of(Action work, int tries = 7)
    {
        work();
        // Code that loops is compiled a second time in the background: the tries begin when it is through.
        Thread.Sleep(200);
        work();
        Cost[] costs = [.. Enumerable.Range(0, tries).Select(_ => Once(work)).OrderBy(cost => cost.Seconds)];
        return costs[tries / 2] with { ProcessorSeconds = costs.Select(cost => cost.ProcessorSeconds).Order().ElementAt(tries / 2) };
    }
}
