using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Tests.Signal;

public sealed class BreakDetectorTest
{
    private static readonly DetectionSettings Usual = new() { PreloadNewtons = 2 };

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    [InlineData(1000)]
    [InlineData(4000)]
    public void Calls_a_break_when_the_settling_window_closes_and_not_before(double rate)
    {
        ForceTrace pull = PullTraces.Brittle(rate);
        (DetectorState state, double time) = Run(pull, Usual);
        Assert.Equal(DetectorState.Broken, state);
        Assert.InRange(time, 5.25, 5.0003 + Math.Max(0.25 + (2 / rate), 5 / rate));
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.5)]
    public void A_conversion_caught_in_the_break_and_read_four_times_is_not_taken_for_what_is_left(double caught)
    {
        // 2.7 conversions a second that average over their time: the one in which the specimen broke shows a part of the force.
        const double Seconds = 0.37, Noise = 0.1;
        const int Reads = 4, Still = 8, Loading = 16;
        var gauss = new Gauss(1);
        double[] conversions = [.. Enumerable.Range(0, 32).Select(i => (Noise * gauss.Next())
            + (i < Still ? 0 : i < Still + Loading ? 100.0 * (i - Still + 1) / Loading : i == Still + Loading ? 100 * caught : 0))];
        var detector = new BreakDetector(new DetectionSettings(), Noise);
        double called = 0;
        for (int i = 0; i < conversions.Length * Reads && called == 0; i++)
        {
            double time = i * Seconds / Reads;
            if (detector.Add(time, conversions[i / Reads]) is DetectorState.Broken or DetectorState.PartlyBroken
                or DetectorState.SlippedOut) called = time;
        }

        Assert.Equal(DetectorState.Broken, detector.State);
        Assert.InRange(called, (Still + Loading + 3) * Seconds, ((Still + Loading + 5) * Seconds) + 0.25);
    }

    [Fact]
    public void A_force_that_stands_still_after_the_fall_does_not_keep_a_slow_converter_waiting()
    {
        var detector = new BreakDetector(new DetectionSettings(), 0.1);
        double called = 0;
        for (int i = 0; i < 400 && called == 0; i++)
        {
            double force = Math.Max(0, (i / 3 * 3) - 100);
            double value = i < 200 ? force + (0.1 * new Gauss(i / 3).Next()) : 0;
            if (detector.Add(i / 30.0, value) == DetectorState.Broken) called = i / 30.0;
        }

        Assert.InRange(called, 200 / 30.0, (200 / 30.0) + 1);
    }

    [Fact]
    public void Nothing_is_a_break_before_contact()
    {
        ForceTrace bumps = PullTraces.Of(1000, 0.1, 3, (0, 0), (1, 1.5), (1.001, 0), (2, 1.9), (2.001, 0), (3, 0));
        Assert.Equal(DetectorState.NoContact, Run(bumps, Usual).State);
    }

    [Fact]
    public void A_fall_that_comes_back_is_no_break()
    {
        ForceTrace slip = PullTraces.Of(1000, 0.5, 4, (0, 0), (3, 600), (3.005, 120), (3.1, 500), (4, 700));
        var detector = new BreakDetector(Usual, 0.5);
        for (int i = 0; i < slip.TimesSeconds.Length; i++) detector.Add(slip.TimesSeconds[i], slip.ForcesNewtons[i]);
        Assert.Equal(DetectorState.Loading, detector.State);
        Assert.Equal(1, detector.RecoveredFalls);
        Assert.InRange(detector.RunningMaximumNewtons, 695, 703);
    }

    [Fact]
    public void What_still_carries_load_is_partly_broken()
    {
        ForceTrace partial = PullTraces.Of(1000, 0.5, 5, (0, 0), (3, 600), (3.005, 150), (5, 190));
        Assert.Equal(DetectorState.PartlyBroken, Run(partial, Usual).State);
    }

    [Fact]
    public void A_tear_that_is_still_going_down_when_the_window_closes_is_waited_for()
    {
        ForceTrace tear = PullTraces.Of(1000, 0.5, 6, (0, 0), (3, 600), (3.15, 200), (3.8, 0), (6, 0));
        (DetectorState state, double time) = Run(tear, Usual);
        Assert.Equal(DetectorState.Broken, state);
        Assert.InRange(time, 3.4, 3.15 + (BreakDetector.WindowsMax * 0.25) + 0.01);
    }

    [Fact]
    public void A_slow_fall_is_a_specimen_that_slid_out()
    {
        ForceTrace slide = PullTraces.Of(1000, 0.5, 7, (0, 0), (3, 600), (6, 0), (7, 0));
        Assert.Equal(DetectorState.SlippedOut, Run(slide, Usual).State);
    }

    [Fact]
    public void A_cell_that_rings_after_the_break_delays_nothing()
    {
        ForceTrace pull = PullTraces.Brittle();
        for (int i = 0; i < pull.TimesSeconds.Length; i++)
        {
            double since = pull.TimesSeconds[i] - 5.0004;
            if (since > 0) pull.ForcesNewtons[i] += 700 * Math.Exp(-since / 0.015) * Math.Cos(2 * Math.PI * 90 * since);
        }

        (DetectorState state, double time) = Run(pull, Usual);
        Assert.Equal(DetectorState.Broken, state);
        Assert.InRange(time, 5.25, 5.32);
    }

    [Fact]
    public void Values_that_are_no_numbers_and_times_that_go_back_are_left_out()
    {
        var detector = new BreakDetector(Usual, 0.5);
        detector.Add(0, double.NaN);
        detector.Add(double.NaN, 500);
        for (int i = 0; i < 100; i++) detector.Add(i * 0.01, i * 5);
        detector.Add(0.2, 0);
        detector.Add(1, double.PositiveInfinity);
        Assert.Equal(DetectorState.Loading, detector.State);
        Assert.Equal(495, detector.RunningMaximumNewtons);
    }

    [Fact]
    public void Allocates_nothing_per_sample()
    {
        ForceTrace pull = PullTraces.Brittle(4000);
        long least = long.MaxValue;

        // The runtime now and then allocates for itself; what a sample costs would show every time.
        for (int attempt = 0; attempt < 5; attempt++)
        {
            var detector = new BreakDetector(Usual, 0.5);
            var despiker = new Despiker(0.5);
            Feed(pull, despiker, detector, 0, 1000);
            long before = GC.GetAllocatedBytesForCurrentThread();
            Feed(pull, despiker, detector, 1000, pull.TimesSeconds.Length);
            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
            Assert.Equal(DetectorState.Broken, detector.State);
        }

        Assert.Equal(0, least);
    }

    [Theory]
    [InlineData(0.5, null, 0.3, 0.25)]
    [InlineData(40, -1.0, 0.3, 0.25)]
    [InlineData(40, null, 0, 0.25)]
    [InlineData(40, null, 0.3, double.NaN)]
    public void Refuses_settings_out_of_range(double remaining, double? preload, double fall, double settling)
    {
        var settings = new DetectionSettings
        {
            RemainingPercent = remaining,
            PreloadNewtons = preload,
            FallSeconds = fall,
            SettlingSeconds = settling
        };
        Assert.Throws<RefusalException>(() => new BreakDetector(settings, 0.5));
    }

    private static void Feed(ForceTrace pull, Despiker despiker, BreakDetector detector, int from, int to)
    {
        for (int i = from; i < to; i++)
        {
            despiker.Add(pull.TimesSeconds[i], pull.ForcesNewtons[i]);
            while (despiker.TryTake(out DespikedSample sample))
            {
                if (!sample.IsSpike) detector.Add(sample.TimeSeconds, sample.Value);
            }
        }
    }

    private static (DetectorState State, double Time) Run(ForceTrace pull, DetectionSettings settings)
    {
        var detector = new BreakDetector(settings, 0.5);
        for (int i = 0; i < pull.TimesSeconds.Length; i++)
        {
            DetectorState state = detector.Add(pull.TimesSeconds[i], pull.ForcesNewtons[i]);
            if (state is DetectorState.Broken or DetectorState.PartlyBroken or DetectorState.SlippedOut) return
                (state, pull.TimesSeconds[i]);
        }

        return (detector.State, double.NaN);
    }
}
