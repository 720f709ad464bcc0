using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Strength;

public sealed class StampJitterTest
{
    /// <summary>
    /// Made pulls whose stamps are off, by less and by more than an interval's share: over many of them the rate and the peak must be off
    /// by about what is stated. An outside check by simulation; the truth is known.
    /// </summary>
    [Theory]
    [InlineData(40, 0.0125, 0.000289)]
    [InlineData(80, 0.0125, 0.002)]
    [InlineData(40, 0.02, 0.008)]
    public void Rate_and_peak_are_off_by_about_what_is_stated_where_stamps_are_off(double rate, double interval, double jitter)
    {
        const int pulls = 300;
        const double strength = 60;
        var random = new Random(5);
        int rates = 0, peaks = 0;
        for (int pull = 0; pull < pulls; pull++)
        {
            double phase = random.NextDouble() * interval;
            int rising = (int)((strength / rate / interval) + 1), all = 40 + rising + 40;
            double[] looked = [.. Enumerable.Range(0, all).Select(i => ((i - 40) * interval) + phase)];
            double[] forces = [.. looked.Select(t => (t < 0 || rate * t >= strength ? 0 : rate * t) + (0.003 * Gauss(random)))];
            double[] stamps = [.. looked.Select(t => t + (jitter * Gauss(random)))];
            Array.Sort(stamps); // Stamps never fall.
            var trace = new ForceTrace
            {
                TimesSeconds = stamps,
                ForcesNewtons = forces,
                SamplesLost = 0,
                IntervalSeconds = interval,
                StampStandardUncertaintySeconds = jitter,
            };
            TraceReading reading = StampJitter.Count(
                TraceAnalysis.Analyse(trace, new DetectionSettings(), new KnownZero(0, 0.003)).Reading, jitter, interval);
            Assert.Equal(PullEnding.Broken, reading.Ending);
            if (Math.Abs(reading.LoadingRateNewtonsPerSecond!.Value - rate) <= 2
                * reading.LoadingRateStandardUncertaintyNewtonsPerSecond!.Value) rates++;
            if (Math.Abs(reading.PeakForceNewtons!.Value - strength) <= 2 * reading.PeakForceStandardUncertaintyNewtons!.Value) peaks++;
        }

        // Nearly all within two standard uncertainties: 95 % would be without the choice of how many samples a fit rests on.
        Assert.True(rates >= 0.85 * pulls, $"{rates} of {pulls} rates");
        Assert.True(peaks >= 0.85 * pulls, $"{peaks} of {pulls} peaks");
    }

    [Fact]
    public void A_device_s_own_clock_changes_nothing_and_a_bad_one_is_warned_about()
    {
        TraceReading reading = Reading(80, 5);
        Assert.Same(reading, StampJitter.Count(reading, 0, 0.0125));
        Assert.Contains(StampJitter.Count(reading, 0.005, 0.0125).Warnings,
            warning => warning.AsKept().Contains("loading rate is uncertain by 13 %", StringComparison.Ordinal));
        Assert.Empty(StampJitter.Count(Reading(80, 80), 0.005, 0.0125).Warnings);
    }

    /// <summary>
    /// A device that prints 40 readings a second skips some while it is loaded; stamps made of arrivals go on evenly and catch up a dozen
    /// lines later, as the host's do. The true rate is known.
    /// </summary>
    [Theory]
    [InlineData(3)]
    [InlineData(10)]
    public void Readings_skipped_at_the_peak_are_covered_by_what_is_stated(int skipped)
    {
        const double Interval = 0.025, Rate = 40, Strength = 100;
        int rates = 0, peaks = 0, warned = 0;
        const int Pulls = 200;
        var random = new Random(6);
        for (int pull = 0; pull < Pulls; pull++)
        {
            double phase = random.NextDouble() * Interval;
            int skipAt = 40 + (int)(Strength / Rate / Interval) - skipped - 4 - random.Next(6);
            var samples = new List<RawSample>();
            for (int i = 0; i < 40 + (int)(Strength / Rate / Interval) + 50; i++)
            {
                double taken = ((i - 40 + (i >= skipAt ? skipped : 0)) * Interval) + phase;
                bool early = i >= skipAt && i < skipAt + 12;
                double stamp = taken - (early ? skipped * Interval : 0);
                double force = (taken < 0 || Rate * taken >= Strength ? 0 : Rate * taken) + (0.02 * Gauss(random));
                samples.Add(new RawSample(i, (long)((stamp + 10) * 1e6), (int)Math.Round(force / 0.002), 0));
            }

            var record = new PullRecord
            {
                Head = AnyPull.Head with { NoiseCounts = 10, IntervalSeconds = Interval, StampStandardUncertaintySeconds = 0.0005 },
                Ending = PullEnding.Broken,
                Reason = Sentence.None,
                EndedAt = DateTimeOffset.UnixEpoch,
                Trace = new RawTrace { Samples = samples, IntervalSeconds = Interval },
            };
            TraceReading reading = PullAnalysis.Read(record, new Core.Calibration.Fitting.ForceCurve([0.002])).Reading;
            if (Math.Abs(reading.LoadingRateNewtonsPerSecond!.Value - Rate) <= 2
                * reading.LoadingRateStandardUncertaintyNewtonsPerSecond!.Value) rates++;
            if (Math.Abs(reading.PeakForceNewtons!.Value - Strength) <= 2 * reading.PeakForceStandardUncertaintyNewtons!.Value) peaks++;
            if (reading.Warnings
                .Any(warning => warning.Code == "readingsSkippedAtPeak")) warned++;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{skipped} skipped: {rates} rates and {peaks} peaks of {Pulls} within two standard uncertainties, {warned} warned");
        Assert.True(rates >= 0.9 * Pulls && peaks >= 0.9 * Pulls && warned >= 0.9 * Pulls,
            $"{rates} rates, {peaks} peaks, {warned} warned");
    }

    private static TraceReading Reading(double rate, int samples) => new()
    {
        Ending = PullEnding.Broken,
        PeakForceNewtons = 60,
        PeakForceStandardUncertaintyNewtons = 0,
        LoadingRateNewtonsPerSecond = rate,
        PeakSamples = samples,
    };

    private static double Gauss(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
