using System.Diagnostics;
using System.Globalization;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Pictures;
using RigDaq.Benchmarks.Table;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Benchmarks.StopLatency;

/// <summary>Break on the wire to stop on the wire, over pseudo-terminals, every core kept busy by loops that only count.</summary>
internal static class StopLatencyPart
{
    private const int Rigs = 6;
    private static readonly TimeSpan Short = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan Long = TimeSpan.FromMinutes(10);
    private static readonly TimeSpan RivalsTime = TimeSpan.FromSeconds(25);

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        // A device has a processor of its own: its threads come before all that is measured. As root only.
        bool raised = Class("-r", "20");
        Process[] loops = [.. Enumerable.Range(0, Environment.ProcessorCount)
            .Select(_ => Start(["sh", "-c", "while :; do :; done"]))];
        double[] ours, rivals = [], oursFromSample;
        try
        {
            (ours, oursFromSample) = Stops(pullByThemselves: false, bench.Whole ? Long : Short,
                terminals => [Start([Environment.ProcessPath!, StopHosts.Role, .. terminals])]);
            if (Rivals.Compile(bench, "poll_loop.c") is { } loop)
            {
                string[] before = raised ? ["chrt", "-r", "10"] : [];
                (rivals, _) = Stops(pullByThemselves: true, RivalsTime, terminals =>
                    [.. terminals.Select(terminal => Start([.. before, loop, terminal, Convert.ToHexString(StopFrame())]))]);
            }
        }
        finally
        {
            foreach (Process loop in loops)
            {
                loop.Kill();
                loop.Dispose();
            }

            Class("-o", "0");
        }

        if (ours.Length == 0) yield break;
        File.WriteAllText(Path.Combine(bench.Root, "docs", "pictures", "performance-stop.svg"), LatencyPicture.Svg(ours, rivals));
        double block = StopDevice.BlockSeconds * 1e3;
        string from = FormattableString.Invariant($"of {ours.Length} stops, {Rigs} rigs in one process");
        yield return new Measured("stop.p99", $"the deciding sample to the stop, p99 {from}", Share(oursFromSample, .99), "ms")
        {
            Aim = block + 2,
            Limit = FormattableString.Invariant($"the block of {block:0.0} ms in which a sample waits to be sent"),
        };
        yield return new Measured("stop.wire99", "its block on the wire to the stop on the wire, p99", Share(ours, .99), "ms")
        {
            Rivals = rivals.Length == 0 ? [] : [new Rival("a poll loop in C", Share(rivals, .99))],
            Limit = "two wake-ups of threads, and whatever else has the core",
        };
        yield return new Measured("stop.wire50", "the same, median", Share(ours, .5), "ms")
        { Rivals = rivals.Length == 0 ? [] : [new Rival("a poll loop in C", Share(rivals, .5))], Limit = "two wake-ups of threads" };
        yield return new Measured("stop.worst", "the same, worst", ours[^1], "ms")
        {
            Rivals = rivals.Length == 0 ? [] : [new Rival("a poll loop in C", rivals[^1])],
            Limit = raised ? "collections of memory stop all threads"
                : "the process could not be raised: it shares the cores with the loops",
        };
    }

    /// <summary>Milliseconds, sorted: from the wire, and from the sample.</summary>
    private static (double[] Wire, double[] Sample) Stops(bool pullByThemselves, TimeSpan time, Func<string[], Process[]> start)
    {
        StopDevice[] devices = [.. Enumerable.Range(0, Rigs).Select(seed => new StopDevice(seed, pullByThemselves))];
        Process[] hosts = start([.. devices.Select(device => device.Path)]);
        // They pull in wall time: there is nothing to do meanwhile.
        Thread.Sleep(time);
        foreach (Process host in hosts)
        {
            host.StandardInput.Close();
            // One that does not end by itself is of no use any more.
            if (!pullByThemselves) host.WaitForExit(TimeSpan.FromSeconds(15));
            if (!host.HasExited) host.Kill(entireProcessTree: true);
            host.Dispose();
        }

        (double Wire, double Sample)[] all = [.. devices.SelectMany(device => device.Latencies)];
        foreach (StopDevice device in devices) device.Dispose();
        return ([.. all.Select(one => one.Wire * 1e3).Order()], [.. all.Select(one => one.Sample * 1e3).Order()]);
    }

    private static double Share(double[] sorted, double share)
        => sorted[Math.Min(sorted.Length - 1, (int)Math.Ceiling(share * sorted.Length) - 1)];

    /// <summary>Puts every thread of this process into a class of the scheduler.</summary>
    private static bool Class(string policy, string priority)
    {
        using Process change = Process.Start(
            "chrt", ["-a", policy, "-p", priority, Environment.ProcessId.ToString(CultureInfo.InvariantCulture)]);
        change.WaitForExit();
        return change.ExitCode == 0;
    }

    /// <summary>What is measured is of the usual class, as a person starts it.</summary>
    private static Process Start(string[] words)
    {
        string[] usual = ["chrt", "-o", "0", "setsid", .. words];
        return Process.Start(new ProcessStartInfo(usual[0], usual[1..]) { RedirectStandardInput = true })!;
    }

    private static byte[] StopFrame()
    {
        byte[] payload = new byte[FrameLimits.PayloadBytesMax], frame = new byte[FrameLimits.WireBytesMax];
        int length = new StopCommand(1, AtOnce: false).Write(payload);
        return frame[..FrameEncoder.Encode(payload.AsSpan(0, length), frame)];
    }
}
