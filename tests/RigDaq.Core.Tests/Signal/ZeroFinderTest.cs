using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Corpus;

namespace RigDaq.Core.Tests.Signal;

/// <summary>The zero of made traces, held against the true one by the standard error of a mean, σ/√n.</summary>
public sealed class ZeroFinderTest
{
    private const double Noise = 0.1;

    [Theory]
    [InlineData(1, false)]
    [InlineData(2, false)]
    [InlineData(3, false)]
    [InlineData(4, false)]
    [InlineData(1, true)]
    [InlineData(2, true)]
    [InlineData(3, true)]
    [InlineData(4, true)]
    public void A_slow_converter_that_is_read_several_times_each_shows_its_zero(int reads, bool wild)
    {
        const int Conversions = 20, Still = 8, Traces = 3000;
        const double Seconds = 0.28;
        int none = 0, off = 0;
        for (int seed = 0; seed < Traces; seed++)
        {
            var gauss = new Gauss(seed);
            double[] conversions =
                [.. Enumerable.Range(0, Conversions).Select(i => (10 * Math.Max(0, i - Still)) + (Noise * gauss.Next()))];
            if (wild) conversions[seed % 5] += seed % 2 == 0 ? 40 : -40;
            double[] times = [.. Enumerable.Range(0, Conversions * reads).Select(i => i * Seconds / reads)];
            double[] values = [.. Enumerable.Range(0, Conversions * reads).Select(i => conversions[i / reads])];
            if (ZeroFinder.Find(times, values, 0) is not { } zero)
            {
                none++;
                continue;
            }

            Assert.InRange(zero.Conversions, ZeroFinder.SamplesMin, Still + 1);
            if (Math.Abs(zero.Mean) > 4 * Noise / Math.Sqrt(zero.Conversions)) off++;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{reads} reads: {none} of {Traces} without a zero, {off} beyond 4 standard errors");
        Assert.Equal(0, none);
        Assert.InRange(off, 0, 2);
    }

    [Fact]
    public void Coarse_steps_that_only_creep_up_are_no_rise()
    {
        // 13 samples/s, one increment of 4; the still stretch shows three levels, each later one above the one before.
        double[] values = [.. Enumerable.Repeat(0.0, 2), .. Enumerable.Repeat(4.0, 13), .. Enumerable.Repeat(8.0, 2),
            .. Enumerable.Range(1, 12).Select(i => 100.0 * i),
            0, 4, 8, 4, 0, 4, 4, 8];
        double[] times = [.. Enumerable.Range(0, values.Length).Select(i => i / 13.4)];
        ZeroStretch zero = Assert.NotNull(ZeroFinder.Find(times, values, 0));
        Assert.InRange(zero.Mean, 3, 5);
    }

    [Fact]
    public void Every_made_trace_of_a_converter_read_too_often_is_read_from_its_zero()
    {
        // Read by samples, not by conversions, 124 of 60,000 of these had no zero and 65 another ending.
        const int Traces = 4000;
        int kind = TraceMaker.Kinds.ToList().IndexOf("repeated values");
        int[] none = new int[Traces], wrong = new int[Traces];
        Parallel.For(0, Traces, i =>
        {
            SyntheticTrace made = TraceMaker.Make((ulong)((i * TraceMaker.Kinds.Count) + kind), 1600);
            TraceReading reading = TraceAnalysis.Read(made.Trace, new DetectionSettings());
            none[i] = reading.ZeroNewtons is null ? 1 : 0;
            wrong[i] = reading.Ending != made.Ending ? 1 : 0;
        });
        Assert.Equal((0, 0), (none.Sum(), wrong.Sum()));
    }

    [Theory]
    [InlineData(728994, 1600)]
    [InlineData(28394, 1600)]
    [InlineData(446314, 1600)]
    [InlineData(39278, 12_000)]
    public void Traces_that_once_had_none_have_one(ulong seed, int samplesMax)
    {
        SyntheticTrace made = TraceMaker.Make(seed, samplesMax);
        TraceReading reading = TraceAnalysis.Read(made.Trace, new DetectionSettings());
        Assert.NotNull(reading.ZeroNewtons);
        Assert.Equal(made.Ending, reading.Ending);
        Assert.InRange(reading.NoiseNewtons!.Value, 0.3 * made.Noise, 3 * made.Noise);
        double bound = Math.Max(made.Noise, made.Rate * made.Interval);
        Assert.InRange(reading.PeakForceNewtons!.Value, made.TruePeak!.Value - (3 * bound), made.TruePeak.Value + (3 * bound));
    }
}
