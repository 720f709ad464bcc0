using RigDaq.Core.Signal;
using RigDaq.Core.Strength;

namespace RigDaq.Core.Tests.Strength;

public sealed class StampJitterTest
{
    /// <summary>
    /// Made pulls whose stamps are off, by less and by more than an interval's share: over many of them the rate and the peak must be off by
    /// about what is stated. An outside check by simulation; the truth is known.
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
                TimesSeconds = stamps, ForcesNewtons = forces, SamplesLost = 0, IntervalSeconds = interval, StampStandardUncertaintySeconds = jitter,
            };
            TraceReading reading = StampJitter.Count(
                TraceAnalysis.Analyse(trace, new DetectionSettings(), new KnownZero(0, 0.003)).Reading, jitter, interval);
            Assert.Equal(PullEnding.Broken, reading.Ending);
            if (Math.Abs(reading.LoadingRateNewtonsPerSecond!.Value - rate) <= 2 * reading.LoadingRateStandardUncertaintyNewtonsPerSecond!.Value) rates++;
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
        Assert.Contains(StampJitter.Count(reading, 0.005, 0.0125).Warnings, warning => warning.Contains("loading rate is uncertain by 13 %"));
        Assert.Empty(StampJitter.Count(Reading(80, 80), 0.005, 0.0125).Warnings);
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
