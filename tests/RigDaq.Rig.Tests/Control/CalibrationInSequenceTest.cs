using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

/// <summary>A calibration that comes into force in the middle of a sequence: no pull goes under limits of the one before.</summary>
public sealed class CalibrationInSequenceTest
{
    [Fact]
    public async Task Limits_are_made_anew_before_the_next_pull()
    {
        await using var bench = new RigBench(RigBench.Near with { HasFeeder = false });
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(2))).Done);
        await PullByHandAsync(bench, 1);
        RigSnapshot asked = await AskedForSpecimenAsync(bench);
        int before = bench.Line.Limits[^1].ForceCountsMax;

        CalibrationRecord doubled = asked.Calibration! with
        {
            Id = "0190a0a0-0000-7000-8000-000000000009",
            Curve = new ForceCurve([2 * bench.Rig.Options.NewtonsPerCount]),
        };
        CommandResult set = await bench.Controller.SetCalibration(doubled);
        Assert.True(set.Done, set.Message);
        await PullByHandAsync(bench, 2);
        await bench.UntilStageAsync(SequenceStage.Finished);
        // Twice the newtons a count: the same force limit lies at half the deflection.
        double zero = bench.Recorder.Records.Last().Head.ZeroCounts;
        Assert.Equal((before - zero) / 2, bench.Line.Limits[^1].ForceCountsMax - zero, 2.0);
        Assert.Equal(doubled.Id, bench.Recorder.Records.Last().Head.CalibrationId);
    }

    [Fact]
    public async Task While_the_crosshead_moves_it_is_refused()
    {
        await using RigBench bench = await RigBench.InMidPullAsync();
        CommandResult refused = await bench.Controller.SetCalibration(bench.Controller.Snapshot.Calibration);
        Assert.False(refused.Done);
        await bench.UntilStageAsync(SequenceStage.Returning);
        // The run is stored at once here; the crosshead is still on its way back.
        await bench.RecordedAsync();
        if (bench.Controller.Snapshot.Sequence?.Stage == SequenceStage.Returning)
            Assert.False((await bench.Controller.SetCalibration(bench.Controller.Snapshot.Calibration)).Done);
        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.True((await bench.Controller.SetCalibration(bench.Controller.Snapshot.Calibration)).Done);
        Assert.Equal(PullEnding.Broken, Assert.Single(bench.Recorder.Records).Ending);
    }

    private static Task<RigSnapshot> AskedForSpecimenAsync(RigBench bench) =>
        bench.UntilAsync(s => s.Sequence is { Stage: SequenceStage.WaitingForSpecimen } q && q.Reason.Code == "openGuardAndPutIn",
            "asked for a specimen");

    private static async Task PullByHandAsync(RigBench bench, int number)
    {
        await AskedForSpecimenAsync(bench);
        bench.Rig.OpenGuard();
        if (number > 1) bench.Rig.RemoveSpecimen();
        bench.Rig.LoadSpecimen(RigBench.Specimen($"S{number}") with { StrengthNewtons = 300 });
        bench.Rig.CloseGuard();
        await bench.UntilAsync(_ => bench.Recorder.Records.Count == number, "recorded");
    }
}
