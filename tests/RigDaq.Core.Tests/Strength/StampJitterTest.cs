using RigDaq.Core.Strength;

namespace RigDaq.Core.Tests.Strength;

public sealed class StampJitterTest
{
    // The formulas against what least squares does to 20,000 made ramps whose stamps jitter: an outside check by simulation.
    [Theory]
    [InlineData(5)]
    [InlineData(20)]
    [InlineData(80)]
    public void The_uncertainty_of_rate_and_peak_is_what_jittering_stamps_do_to_a_fitted_line(int samples)
    {
        const double rate = 80, interval = 0.0125, jitter = 0.002;
        var random = new Random(samples);
        double slopes = 0, ends = 0;
        const int ramps = 20_000;
        for (int ramp = 0; ramp < ramps; ramp++)
        {
            // The stamps are even, what is looked at is not: the force belongs to another time than its stamp.
            (double slope, double end) = Fit([.. Enumerable.Range(0, samples).Select(i => rate * ((i * interval) + (jitter * Gauss(random))))], interval);
            slopes += (slope - rate) * (slope - rate);
            ends += (end - (rate * (samples - 1) * interval)) * (end - (rate * (samples - 1) * interval));
        }

        TraceReading reading = StampJitter.Count(Reading(rate, samples), jitter, interval);
        Assert.Equal(Math.Sqrt(slopes / ramps), reading.LoadingRateStandardUncertaintyNewtonsPerSecond!.Value, 0.02 * Math.Sqrt(slopes / ramps));
        Assert.Equal(Math.Sqrt(ends / ramps), reading.PeakForceStandardUncertaintyNewtons!.Value, 0.02 * Math.Sqrt(ends / ramps));
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

    private static (double Slope, double End) Fit(double[] forces, double interval)
    {
        double middle = (forces.Length - 1) / 2.0;
        double mean = forces.Average();
        double product = 0, spread = 0;
        for (int i = 0; i < forces.Length; i++)
        {
            product += (i - middle) * (forces[i] - mean);
            spread += (i - middle) * (i - middle);
        }

        double slope = product / spread / interval;
        return (slope, mean + (slope * middle * interval));
    }

    private static double Gauss(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
