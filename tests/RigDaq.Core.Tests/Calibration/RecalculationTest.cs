using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Calibration;

public sealed class RecalculationTest
{
    private static readonly DateTimeOffset Now = new(2026, 4, 1, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Reads_the_same_counts_by_another_curve()
    {
        var trace = Pull().Trace;
        double[] forces = Recalculation.ForcesNewtons(trace, 1000, Calibration("b", 2e-3));
        Assert.Equal(trace.Samples.Select(sample => (sample.Counts - 1000) * 2e-3), forces);
    }

    [Fact]
    public void Gives_a_further_revision_and_leaves_the_first_alone()
    {
        var pull = Pull();
        Run first = RunCalculation.Calculate(pull, null, Calibration("a", 1e-3), Now) with
        { Void = new RunVoid(VoidKind.Slip, "slid", Now) };
        Run second = Recalculation.Under(first, pull, null, Calibration("b", 1.01e-3), Now.AddDays(1));
        Assert.Equal(1.01, second.Reading!.PeakForceNewtons!.Value / first.Reading!.PeakForceNewtons!.Value, 9);
        Assert.Equal(("a", "b"), (first.Head.CalibrationId, second.Head.CalibrationId));
        Assert.Equal((1, first.Void), (second.Revision, second.Void));
        Assert.Contains("calibration b of 2026-03-01 instead of a", second.RevisionReason, StringComparison.Ordinal);
    }

    [Fact]
    public void Refuses_a_calibration_of_another_device() =>
        Assert.Throws<ArgumentException>(() => Recalculation.Under(
            RunCalculation.Calculate(Pull(), null, Calibration("a", 1e-3), Now), Pull(), null, Calibration("b", 1e-3) with
            { DeviceId = "00000000000000bb" }, Now));

    [Fact]
    public void Warns_where_the_runs_of_a_study_were_read_by_several_calibrations()
    {
        Run a = RunCalculation.Calculate(Pull(), null, Calibration("a", 1e-3), Now);
        Run b = Recalculation.Under(a, Pull(), null, Calibration("b", 1e-3), Now);
        Assert.Null(CalibrationUse.Of([a, a]).Warning);
        var use = CalibrationUse.Of([a, b, a]);
        Assert.Equal([new CalibrationUse.Count("a", 2), new CalibrationUse.Count("b", 1)], use.Runs);
        Assert.Contains("2 calibrations", use.Warning, StringComparison.Ordinal);
    }

    private static CalibrationRecord Calibration(string id, double newtonsPerCount) => new()
    {
        Id = id,
        DeviceId = "00000000000000aa",
        AcceptedAt = new DateTimeOffset(2026, 3, 1, 9, 0, 0, TimeSpan.Zero),
        ValidUntil = new DateTimeOffset(2027, 3, 1, 9, 0, 0, TimeSpan.Zero),
        Curve = new ForceCurve([newtonsPerCount]),
        GreatestReferenceNewtons = 500,
    };

    // A second of zero, a rise to 300,000 counts in a second, and a break; a little regular noise.
    private static PullRecord Pull()
    {
        var samples = Enumerable.Range(0, 800).Select(i => new RawSample(i, i * 3125L,
            1000 + (i % 3) + (i is >= 320 and < 640 ? (i - 320) * 937 : 0), 0)).ToArray();
        return new PullRecord
        {
            Head = AnyPull.Head with
            {
                CalibrationId = "a",
                StartedAt = Now,
                Device = new RigDevice("00000000000000aa", "bench", 1, true),
                ZeroCounts = 1001,
                IntervalSeconds = 0.003125,
            },
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = Now,
            Trace = new RawTrace { Samples = samples, IntervalSeconds = 0.003125 },
        };
    }
}
