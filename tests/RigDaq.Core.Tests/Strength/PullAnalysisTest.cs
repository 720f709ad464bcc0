using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Tests.Signal;
using RigDaq.Core.Trace;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Strength;

public sealed class PullAnalysisTest
{
    private static readonly ForceCurve Curve = new([0.002]);

    [Fact]
    public void Reads_a_pull_from_counts_and_steps()
    {
        PullReading read = PullAnalysis.Read(Pull(Curve), Curve, 98);
        TraceReading reading = read.Reading;
        Assert.Equal(PullEnding.Broken, reading.Ending);
        Assert.InRange(reading.PeakForceNewtons!.Value, 799, 801);
        Assert.InRange(reading.NoiseNewtons!.Value, 0.499, 0.501);
        Assert.Equal(Curve.Newtons(1000), reading.ZeroNewtons!.Value, 1e-9);
        Assert.Equal(3, reading.SamplesLost);
        Assert.InRange(read.ZeroShiftNewtons!.Value, -0.1, 0.1);

        // 400 N/mm: the crosshead goes 0.5 mm/s while the force rises by 200 N/s.
        Assert.InRange(reading.InitialSlopeNewtonsPerMillimetre!.Value, 398, 402);
        Assert.InRange(reading.ExtensionAtPeakMillimetres!.Value, 1.96, 2.01);
        Assert.InRange(reading.WorkToBreakJoules!.Value, 0.79, 0.81);
    }

    [Fact]
    public void Takes_the_machines_own_give_off_the_extension()
    {
        var bar = new MachineCompliance(0.0005) { StandardUncertaintyMillimetresPerNewton = 0.00001, ToNewtons = 500, Id = "bar" };
        TraceReading reading = PullAnalysis.Read(Pull(Curve), Curve, 98, bar).Reading;

        // 1/400 − 0.0005 mm/N are left: 500 N/mm.
        Assert.InRange(reading.InitialSlopeNewtonsPerMillimetre!.Value, 495, 505);
        Assert.InRange(reading.ExtensionAtPeakMillimetres!.Value, 1.55, 1.61);
        Assert.Equal(("bar", 0.0005), (reading.ComplianceId, reading.ComplianceMillimetresPerNewton!.Value));

        // k²·u(c) = 500² × 0.00001 N/mm, and a little from the line.
        Assert.InRange(reading.InitialSlopeStandardUncertaintyNewtonsPerMillimetre!.Value, 2.5, 3.5);
        Assert.Contains(reading.Warnings,
            warning => warning.AsKept().StartsWith("The machine's give was measured up to 500 N", StringComparison.Ordinal));
    }

    [Fact]
    public void A_give_that_is_not_this_machines_gives_no_extension()
    {
        TraceReading reading = PullAnalysis.Read(Pull(Curve), Curve, 98, new MachineCompliance(0.01)).Reading;
        Assert.Null(reading.ExtensionAtPeakMillimetres);
        Assert.Null(reading.InitialSlopeNewtonsPerMillimetre);
        Assert.Contains(reading.Warnings, warning => warning.Code == "complianceNotThisMachines");
    }

    [Fact]
    public void The_same_pull_under_a_curve_twice_as_steep_reads_twice_the_force()
    {
        PullRecord pull = Pull(Curve);
        double once = PullAnalysis.Read(pull, Curve).Reading.PeakForceNewtons!.Value;
        double twice = PullAnalysis.Read(pull, new ForceCurve([0.004])).Reading.PeakForceNewtons!.Value;
        Assert.Equal(2 * once, twice, 1e-6);
    }

    [Fact]
    public void A_zero_that_shifted_is_warned_about()
    {
        PullReading read = PullAnalysis.Read(Pull(Curve) with { ZeroReturnCounts = 1000 + 200 }, Curve, 98);
        Assert.Equal(0.4, read.ZeroShiftNewtons!.Value, 1e-9);
        Assert.Contains(read.Reading.Warnings,
            warning => warning.AsKept().StartsWith("The zero shifted by 0.4 N", StringComparison.Ordinal));
    }

    [Fact]
    public void A_pull_without_samples_is_no_contact()
    {
        PullRecord pull = Pull(Curve);
        PullReading read = PullAnalysis.Read(pull with { Trace = pull.Trace with { Samples = [] } }, Curve);
        Assert.Equal(PullEnding.NoContact, read.Reading.Ending);
        Assert.Null(read.ZeroShiftNewtons);
    }

    private static PullRecord Pull(ForceCurve curve)
    {
        ForceTrace trace = PullTraces.Brittle();
        const double StepsPerMillimetre = 1600;
        var samples = new List<RawSample>();
        for (int i = 0; i < trace.TimesSeconds.Length; i++)
        {
            if (i is 1500 or 1501 or 1502) continue;
            double time = trace.TimesSeconds[i];
            int counts = (int)Math.Round(1000 + (trace.ForcesNewtons[i] / curve.Coefficients[0]));
            samples.Add(new RawSample(7000 + i, 1_000_000 + (i * 1000), counts,
                (int)(Math.Clamp(time - 1, 0, 4) * 0.5 * StepsPerMillimetre)));
        }

        var at = new DateTimeOffset(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
        return new PullRecord
        {
            Head = AnyPull.Head with
            {
                ZeroCounts = 1000,
                NoiseCounts = 250,
                IntervalSeconds = 0.001,
                StepsPerMillimetre = StepsPerMillimetre,
            },
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = at,
            Trace = new RawTrace { Samples = samples, IntervalSeconds = 0.001, StepsPerMillimetre = StepsPerMillimetre },
        };
    }
}
