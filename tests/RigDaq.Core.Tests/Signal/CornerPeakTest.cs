using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Tests.Signal;

/// <summary>A force that rises along one line and goes down along another: where they meet is known exactly (plane geometry).</summary>
public sealed class CornerPeakTest
{
    private const double Top = 300;

    [Theory]
    [InlineData(20, 100, 300, false)]
    [InlineData(20, 100, 300, true)]
    [InlineData(80, 100, 100, true)]
    [InlineData(80, 60, 600, true)]
    [InlineData(320, 100, 100, false)]
    [InlineData(320, 100, 1000, true)]
    [InlineData(1000, 30, 60, true)]
    public void A_tear_is_read_at_its_corner_whatever_the_sampling_and_the_delay(double rate, double up, double down, bool averages)
    {
        const int Traces = 400;
        double noise = 0.3, interval = 1 / rate;
        int within = 0;
        double sum = 0, worst = 0;
        for (int seed = 0; seed < Traces; seed++)
        {
            var gauss = new Gauss(seed);
            double corner = 1.5 + (Top / up) + (interval * seed / Traces);
            int n = (int)((corner + (Top / down) + 1) * rate);
            double[] times = [.. Enumerable.Range(0, n).Select(i => i * interval)];
            double[] forces =
                [.. times.Select(time => (averages ? Mean(time - interval, time, corner, up, down) : Force(time, corner, up, down))
                + (noise * gauss.Next()))];
            TraceReading reading = TraceAnalysis.Read(
                new ForceTrace { TimesSeconds = times, ForcesNewtons = forces, ConverterDelaySeconds = averages ? interval / 2 : 0 },
                    new DetectionSettings());
            double off = reading.PeakForceNewtons!.Value - Top;
            if (Math.Abs(off) <= 2 * reading.PeakForceStandardUncertaintyNewtons!.Value) within++;
            sum += off;
            worst = Math.Max(worst, Math.Abs(off));
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{100.0 * within / Traces:F1} % within 2 u, bias {sum / Traces / noise:F2} σ, worst {worst / noise:F1} σ");
        Assert.InRange(within, 0.93 * Traces, Traces);
        Assert.InRange(sum / Traces, -0.35 * noise, 0.35 * noise);
        Assert.InRange(worst, 0, (4 * noise) + (up * interval));
    }

    [Fact]
    public void A_yield_before_the_tear_is_no_corner()
    {
        double[] times = [.. Enumerable.Range(0, 900).Select(i => i / 100.0)];
        double[] forces =
            [.. times.Select(time => time < 1 ? 0 : time < 6 ? Top * (1 - Math.Pow((time - 4.5) / 3.5, 2))
            : Math.Max(0, Top * (1 - Math.Pow(1.5 / 3.5, 2)) - (200 * (time - 6))))];
        var fall = new Fall(600, 690, 1, true, 0, 200);
        Assert.Null(CornerPeak.Find(Loaded(times, forces), fall, 0.1));
    }

    [Fact]
    public void A_fall_from_one_sample_to_the_next_shows_no_corner()
    {
        double[] times = [.. Enumerable.Range(0, 500).Select(i => i / 100.0)];
        double[] forces = [.. times.Select(time => time < 1 ? 0 : time < 4 ? 100 * (time - 1) : 0)];
        Assert.Null(CornerPeak.Find(Loaded(times, forces), new Fall(399, 400, 0, true, 0, 100), 0.1));
    }

    private static double Force(double time, double corner, double up, double down) =>
        Math.Max(0, time < corner ? Top - (up * (corner - time)) : Top - (down * (time - corner)));

    /// <summary>The mean between two times, by many parts.</summary>
    private static double Mean(double from, double to, double corner, double up, double down)
    {
        const int Parts = 100;
        double sum = 0;
        for (int i = 0; i < Parts; i++) sum += Force(from + ((to - from) * (i + 0.5) / Parts), corner, up, down);
        return sum / Parts;
    }

    private static LoadedTrace Loaded(double[] times, double[] forces) => new()
    {
        Given = new ForceTrace { TimesSeconds = times, ForcesNewtons = forces },
        Despiked = new DespikedTrace(times, forces, null, []),
        Contact = 102,
        ContactNewtons = 0,
        Noise = 0.1,
        NoiseSamples = 0,
        IntervalSeconds = 0.01,
        IsEven = true,
        Step = 0,
        ZeroStep = 0,
        ZeroSamples = 0,
    };
}
