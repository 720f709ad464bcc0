using System.Runtime.InteropServices;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.Traces;

/// <summary>A whole trace read: zero, noise, spikes, contact, peak, fall, drops, slope, work.</summary>
internal static class TracesPart
{
    private static readonly int[] Lengths = [10_000, 100_000, 1_000_000];
    private static readonly ForceCurve Curve = new([WorkshopCalibration.NewtonsPerCount]);

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        WarmUp();
        foreach (int length in Lengths)
        {
            ForceTrace trace = Trace(length);
            string file = Path.Combine(bench.Scratch, "trace.doubles");
            File.WriteAllBytes(file,
                [.. Bytes(trace.TimesSeconds), .. Bytes(trace.ForcesNewtons), .. Bytes(trace.PositionsMillimetres!)]);
            IReadOnlyDictionary<string, double> scipy = Rivals.Ask(Rivals.Python, bench.Tool("trace.py"), file);
            Cost cost = Cost.Of(() => TraceAnalysis.Read(trace, new DetectionSettings()), length > 500_000 ? 5 : 15);
            yield return new Measured($"trace.{length}", FormattableString.Invariant($"a trace of {length:#,0} samples read"),
                cost.ProcessorSeconds / length * 1e9, "ns a sample")
            {
                Aim = 200,
                Rivals = scipy.TryGetValue("seconds", out double seconds)
                    ? [new Rival("numpy and SciPy, the same steps", seconds / length * 1e9)] : [],
                Limit = FormattableString.Invariant(
                    $"many passes over arrays of doubles; {Page.Number((double)cost.AllocatedBytes / length)} bytes a sample allocated"),
            };
        }
    }

    /// <summary>A method is compiled with all optimisations after some thirty calls only, and a reading calls most of them once.</summary>
    public static void WarmUp()
    {
        const int calls = 50;
        ForceTrace trace = Trace(10_000);
        for (int i = 0; i < calls; i++) TraceAnalysis.Read(trace, new DetectionSettings());
        // Compiled in the background.
        Thread.Sleep(500);
        for (int i = 0; i < calls; i++) TraceAnalysis.Read(trace, new DetectionSettings());
    }

    /// <summary>A pull of so many samples, its zero still to be found.</summary>
    public static ForceTrace Trace(int length)
    {
        PullRecord pull = InventedPulls.Pull(1, InventedPulls.Samples(length, seed: 3));
        return PullAnalysis.Trace(pull, Curve);
    }

    private static ReadOnlySpan<byte> Bytes(double[] figures) => MemoryMarshal.AsBytes<double>(figures);
}
