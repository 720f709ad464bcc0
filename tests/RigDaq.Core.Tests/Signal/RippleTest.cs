using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Tests.Signal;

/// <summary>Waves of known frequency and amplitude on a smooth loading.</summary>
public sealed class RippleTest
{
    private const double Noise = 0.1;

    [Theory]
    [InlineData(80, 2, 0.5)]
    [InlineData(80, 7.3, 0.2)]
    [InlineData(320, 1.5, 0.4)]
    [InlineData(14, 1.1, 0.5)]
    public void Is_found_with_its_frequency_and_amplitude(double rate, double hertz, double amplitude)
    {
        (double[] times, double[] forces) = Loading(rate, hertz, amplitude, 1);
        RippleLine line = Ripple.Find(times, forces, 0, times.Length - 1)[0];
        Assert.Equal(hertz, line.Hertz, 0.04);
        Assert.Equal(amplitude, line.AmplitudeNewtons, 0.1 * amplitude);
    }

    [Fact]
    public void A_wave_that_slow_sampling_folded_down_is_found_as_it_is_seen()
    {
        // 50 Hz at 10.2 samples a second is seen at 50 − 5·10.2 = −1 Hz.
        (double[] times, double[] forces) = Loading(10.2, 50, 0.5, 2);
        Assert.Equal(1.0, Assert.Single(Ripple.Find(times, forces, 0, times.Length - 1)).Hertz, 0.05);
    }

    [Fact]
    public void White_noise_has_none_but_by_rare_chance()
    {
        int found = 0;
        for (int seed = 0; seed < 300; seed++)
        {
            (double[] times, double[] forces) = Loading(80, 1, 0, seed);
            found += Ripple.Find(times, forces, 0, times.Length - 1).Count > 0 ? 1 : 0;
        }

        Assert.InRange(found, 0, 9);
    }

    [Fact]
    public void What_a_fit_makes_of_it_is_what_it_does_to_waves()
    {
        double[] times = [.. Enumerable.Range(0, 101).Select(i => i / 100.0)];

        // A constant through a whole period is left with nothing; a single sample takes it whole: a/√2 over all phases.
        Assert.Equal(0, new RippleLine(1 / 1.01, 1).InFit(times, 0, 100, 0, 0.5), 1e-9);
        Assert.Equal(1 / Math.Sqrt(2), new RippleLine(5, 1).InFit(times, 50, 50, 0, 0.5), 1e-12);
        Assert.InRange(new RippleLine(0.01, 1).InFit(times, 0, 100, 1, 1), 0.70, 0.72);
        Assert.Equal(1 / (Math.Sqrt(2) * Math.PI * 10), new RippleLine(10, 1).InMean(1), 1e-12);
    }

    [Theory]
    [InlineData(14, 1.1)]
    [InlineData(80, 2)]
    [InlineData(80, 6)]
    [InlineData(320, 3)]
    public void The_peaks_stated_interval_holds_the_truth_though_a_wave_rides_on_it(double rate, double hertz)
    {
        int held = 0;
        const int Times = 300;
        for (int seed = 0; seed < Times; seed++)
        {
            // Three deviations of the noise, of any phase, while the motor runs; the still stretch knows nothing of it.
            (double[] times, double[] forces) = Loading(rate, hertz, 0.3 * Math.Sqrt(2), seed);
            double truth = Curve(times[^1]);
            double[] allTimes = [.. Enumerable.Range(0, (int)(1.5 * rate)).Select(i => (i / rate) - (int)(1.5 * rate) / rate), .. times,
                .. Enumerable.Range(1, (int)Math.Max(rate, 10)).Select(i => times[^1] + (i / rate))];
            var gauss = new Gauss(seed + 9999);
            double[] allForces = [.. Enumerable.Range(0, (int)(1.5 * rate)).Select(_ => Noise * gauss.Next()), .. forces,
                .. Enumerable.Range(1, (int)Math.Max(rate, 10)).Select(_ => Noise * gauss.Next())];
            TraceReading reading = TraceAnalysis.Read(new ForceTrace { TimesSeconds = allTimes, ForcesNewtons = allForces },
                new DetectionSettings());
            Assert.Equal(PullEnding.Broken, reading.Ending);

            // It broke at a sample: half an interval is added for the unseen end, and belongs to the truth here.
            double off = reading.PeakForceNewtons!.Value - truth - (reading.LoadingRateNewtonsPerSecond!.Value / rate / 2);
            if (Math.Abs(off) <= 2 * reading.PeakForceStandardUncertaintyNewtons!.Value) held++;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{rate} samples/s, {hertz} Hz: {100.0 * held / Times:F1} % within k = 2");
        Assert.InRange(held, (int)(0.9 * Times), Times);
    }

    private static double Curve(double time) => 400 * ((time / 10) - (0.3 * time * time / 100));

    /// <summary>Ten seconds of a curve that bends over, white noise, and a wave.</summary>
    private static (double[] Times, double[] Forces) Loading(double rate, double hertz, double amplitude, int seed)
    {
        var gauss = new Gauss(seed);
        double[] times = [.. Enumerable.Range(0, (int)(10 * rate)).Select(i => i / rate)];
        return
            (times,
            [.. times.Select(time => Curve(time) + (amplitude * Math.Sin((2 * Math.PI * hertz * time) + (0.7 * seed)))
            + (Noise * gauss.Next()))]);
    }
}
