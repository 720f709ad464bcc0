using RigDaq.Core.Pulls;
using RigDaq.Core.Tests.Signal;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Tests.Strength;

public sealed class TraceAnalysisTest
{
    private static readonly DetectionSettings Usual = new();

    [Theory]
    [InlineData(100)]
    [InlineData(1000)]
    [InlineData(4000)]
    public void Reads_a_sudden_break(double rate)
    {
        TraceReading reading = TraceAnalysis.Read(PullTraces.Brittle(rate), Usual);
        Assert.Equal(PullEnding.Broken, reading.Ending);
        Assert.InRange(reading.SampleRateHertz!.Value, rate * 0.999, rate * 1.001);
        Assert.InRange(reading.NoiseNewtons!.Value, 0.35, 0.65);
        Assert.InRange(reading.ZeroNewtons!.Value, -0.15, 0.15);
        Assert.InRange(reading.PeakForceNewtons!.Value, 800 - 1 - (60 / rate), 800 + 1 + (60 / rate));
        Assert.InRange(reading.LoadingRateNewtonsPerSecond!.Value, 197, 203);
        Assert.InRange(reading.UnderReadNewtons!.Value, 197 / rate, 203 / rate);
        Assert.InRange(reading.BreakTimeSeconds!.Value, 5.0003 - (1 / rate), 5.0004);
        Assert.InRange(reading.BreakForceNewtons!.Value, 797, 803);
        Assert.Empty(reading.LoadDrops);
        Assert.Equal(0, reading.SamplesLost);
    }

    [Fact]
    public void Gives_both_strength_and_stress_at_break_of_a_yielding_specimen()
    {
        TraceReading reading = TraceAnalysis.Read(
            PullTraces.Of(1000, 0.5, 2, (0, 0), (1, 0), (4, 600), (4.4, 630), (6, 520), (6.002, 0), (7, 0)), Usual);
        Assert.Equal(PullEnding.Broken, reading.Ending);
        Assert.InRange(reading.PeakForceNewtons!.Value, 628.5, 631);
        Assert.InRange(reading.PeakTimeSeconds!.Value, 4.35, 4.45);
        Assert.InRange(reading.BreakForceNewtons!.Value, 517, 523);
        Assert.InRange(reading.BreakTimeSeconds!.Value, 5.99, 6.001);
    }

    [Fact]
    public void Tells_brittle_from_ductile_by_work_after_the_peak_and_by_how_fast_it_fell()
    {
        Assert.Equal(FractureManner.Brittle, TraceAnalysis.Read(PullTraces.Brittle(), Usual).Fracture);
        TraceReading yielded = TraceAnalysis.Read(PullTraces.Of(1000, 0.5, 2, (0, 0), (1, 0), (4, 600), (6, 520), (6.002, 0), (7, 0)),
            Usual);
        Assert.Equal(FractureManner.Ductile, yielded.Fracture);

        // Areas by hand: 900 N·s to the peak, 1,120 N·s after it.
        Assert.InRange(yielded.WorkAfterPeakShare!.Value, 1120 / 2020.0 - 0.01, 1120 / 2020.0 + 0.01);
        Assert.InRange(yielded.FallRateNewtonsPerSecond!.Value, 100_000, 300_000);
        TraceReading torn = TraceAnalysis.Read(PullTraces.Of(1000, 0.5, 2, (0, 0), (1, 0), (4, 600), (4.5, 0), (6, 0)), Usual);
        Assert.Equal(PullEnding.Broken, torn.Ending);
        Assert.Equal(FractureManner.Ductile, torn.Fracture);
        Assert.Null(TraceAnalysis.Read(PullTraces.Of(1000, 0.5, 2, (0, 0), (1, 0), (4, 600)), Usual).Fracture);
    }

    [Fact]
    public void Counts_a_drop_that_came_back_and_marks_a_deep_one()
    {
        TraceReading reading = TraceAnalysis.Read(
            PullTraces.Of(1000, 0.5, 3, (0, 0), (1, 0), (3, 400), (3.004, 300), (5, 650), (5.001, 0), (6, 0)), Usual);
        Assert.Equal(PullEnding.Broken, reading.Ending);
        LoadDrop drop = Assert.Single(reading.LoadDrops);
        Assert.InRange(drop.TimeSeconds, 2.98, 3.002);
        Assert.InRange(drop.DepthNewtons, 98, 104);
        Assert.InRange(reading.FirstMaximumForceNewtons!.Value, 398, 403);
        Assert.Contains(reading.Warnings, warning => warning.AsKept().StartsWith("The force dropped by 25 %", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(PullEnding.PartlyBroken, 3.005, 100.0)]
    [InlineData(PullEnding.Broken, 3.005, 20.0)]
    [InlineData(PullEnding.SlippedOut, 4.5, 100.0)]
    [InlineData(PullEnding.SlippedOut, 4.5, 0.0)]
    [InlineData(PullEnding.PartlyBroken, 3.005, 300.0)]
    [InlineData(PullEnding.Unbroken, 3.005, 450.0)]
    [InlineData(PullEnding.Unbroken, 4.5, 300.0)]
    public void Tells_endings_by_how_fast_and_how_far_the_force_fell(PullEnding expected, double end, double left)
    {
        TraceReading reading = TraceAnalysis.Read(PullTraces.Of(500, 0.5, 4, (0, 0), (1, 0), (3, 600), (end, left), (6, left)), Usual);
        Assert.Equal(expected, reading.Ending);
        Assert.Equal(expected is PullEnding.Broken or PullEnding.PartlyBroken, reading.BreakForceNewtons is not null);
    }

    [Fact]
    public void Three_samples_above_contact_are_a_pull_and_two_are_none()
    {
        Assert.Equal(PullEnding.NoContact, Read(0, 0, 0, 0, 0, 0, 50, 100, 0, 0, 0, 0, 0).Ending);
        TraceReading three = Read(0, 0, 0, 0, 0, 0, 50, 100, 150, 0, 0, 0, 0);
        Assert.Equal(PullEnding.Broken, three.Ending);
        Assert.Equal(150, three.RawPeakForceNewtons);
        Assert.Equal(PullEnding.Unbroken, Read(0, 0, 0, 0, 0, 0, 50, 100, 150).Ending);
    }

    [Fact]
    public void Without_five_samples_before_contact_there_is_no_zero_and_a_warning_says_so()
    {
        TraceReading reading = Read(0, 0, 100, 200, 300, 400, 500, 600, 0, 0, 0, 0);
        Assert.Null(reading.ZeroNewtons);
        Assert.Contains(reading.Warnings, warning => warning.AsKept().StartsWith("No zero", StringComparison.Ordinal));
    }

    [Fact]
    public void A_specimen_that_is_unloaded_by_the_crosshead_is_not_broken()
    {
        ForceTrace pull = PullTraces.Of(1000, 0.5, 4, (0, 0), (1, 0), (3, 600), (3.4, 0), (5, 0));
        double[] positions = [.. pull.TimesSeconds.Select(time => time < 3 ? Math.Max(0, time - 1) : Math.Max(0, 2 - (5 * (time - 3))))];
        Assert.Equal(PullEnding.Broken, TraceAnalysis.Read(pull, Usual).Ending);
        TraceReading unloaded = TraceAnalysis.Read(pull with { PositionsMillimetres = positions }, Usual);
        Assert.Equal(PullEnding.Unbroken, unloaded.Ending);
        Assert.Contains(unloaded.Warnings, warning => warning.AsKept().Contains("unloaded", StringComparison.Ordinal));
    }

    [Fact]
    public void Drives_that_make_noise_only_while_they_run_do_not_spoil_the_peak()
    {
        ForceTrace pull = PullTraces.Brittle(1000, 0.1);
        var gauss = new Gauss(9);
        for (int i = 1000; i < 5001; i++) pull.ForcesNewtons[i] += gauss.Next();
        TraceReading reading = TraceAnalysis.Read(pull, Usual);
        Assert.Equal(PullEnding.Broken, reading.Ending);
        Assert.InRange(reading.PeakForceNewtons!.Value, 799, 801);
        Assert.InRange(reading.LoadingRateNewtonsPerSecond!.Value, 195, 205);
    }

    [Fact]
    public void A_straight_tear_begins_at_the_peak()
    {
        TraceReading torn = TraceAnalysis.Read(PullTraces.Of(500, 0.3, 4, (0, 0), (1, 0), (4, 500), (5.2, 0), (8, 0)), Usual);
        Assert.Equal(PullEnding.Broken, torn.Ending);
        Assert.InRange(torn.BreakForceNewtons!.Value, 497, 502);
        Assert.InRange(torn.BreakTimeSeconds!.Value, 3.98, 4.02);
    }

    [Fact]
    public void What_parts_in_the_end_after_it_broke_partly_was_a_partial_break()
    {
        TraceReading reading =
            TraceAnalysis.Read(PullTraces.Of(500, 0.1, 4, (0, 0), (1, 0), (3, 400), (3.01, 100), (4, 110), (4.01, 0), (6, 0)), Usual);
        Assert.Equal(PullEnding.PartlyBroken, reading.Ending);
        Assert.InRange(reading.BreakForceNewtons!.Value, 399, 401);
    }

    [Fact]
    public void A_corner_that_no_parabola_fits_is_read_at_its_greatest_sample()
    {
        TraceReading slid = TraceAnalysis.Read(PullTraces.Of(50, 0, 4, (0, 0), (1, 0), (4, 500), (7, 0), (8, 0)), Usual);
        Assert.Equal(PullEnding.SlippedOut, slid.Ending);
        Assert.Equal(500, slid.PeakForceNewtons!.Value, 0.01);
    }

    [Fact]
    public void Takes_the_zero_off()
    {
        ForceTrace pull = PullTraces.Brittle();
        ForceTrace lifted = pull with { ForcesNewtons = [.. pull.ForcesNewtons.Select(force => force + 1234.5)] };
        TraceReading a = TraceAnalysis.Read(pull, Usual);
        TraceReading b = TraceAnalysis.Read(lifted, Usual);
        Assert.Equal(a.ZeroNewtons!.Value + 1234.5, b.ZeroNewtons!.Value, 1e-9);
        Assert.Equal(a.PeakForceNewtons!.Value, b.PeakForceNewtons!.Value, 1e-6);
        Assert.Equal(a.Ending, b.Ending);
    }

    [Fact]
    public void Leaves_spikes_out_and_says_how_many()
    {
        ForceTrace pull = PullTraces.Brittle();
        pull.ForcesNewtons[2500] = 5000;
        pull.ForcesNewtons[3500] = -5000;
        TraceReading reading = TraceAnalysis.Read(pull, Usual);
        Assert.Equal(2, reading.SpikesRemoved);
        Assert.InRange(reading.RawPeakForceNewtons!.Value, 798, 803);
        Assert.Empty(reading.LoadDrops);
    }

    [Fact]
    public void Counts_lost_samples_by_the_gaps()
    {
        ForceTrace pull = PullTraces.Brittle();
        int[] kept = [.. Enumerable.Range(0, pull.TimesSeconds.Length).Where(i => i is < 2000 or >= 2007)];
        TraceReading reading = TraceAnalysis.Read(
            new ForceTrace
            {
                TimesSeconds = [.. kept.Select(i => pull.TimesSeconds[i])],
                ForcesNewtons = [.. kept.Select(i => pull.ForcesNewtons[i])]
            }, Usual);
        Assert.Equal(7, reading.SamplesLost);
        Assert.InRange(reading.SampleRateHertz!.Value, 999.9, 1000.1);
    }

    [Fact]
    public void Nothing_at_all_is_no_contact()
    {
        Assert.Equal(PullEnding.NoContact, Read().Ending);
        Assert.Equal(PullEnding.NoContact, Read(double.NaN, double.NaN).Ending);
        Assert.Equal(PullEnding.NoContact, Read([.. Enumerable.Repeat(0.1, 500)]).Ending);
    }

    private static TraceReading Read(params double[] forces) => TraceAnalysis.Read(
        new ForceTrace { TimesSeconds = [.. forces.Select((_, i) => i * 0.1)], ForcesNewtons = forces }, Usual);
}
