using RigDaq.App;
using RigDaq.App.Calibrations;
using RigDaq.Core.Calibration;
using RigDaq.Web.Views;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>The page's calibration without its page. Waits for wall time: the fake rig's samples come by a timer, and a reading takes two
/// seconds of stillness.</summary>
public sealed class CalibrationServiceTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(90);

    private static CalibrationRequest Ask => new()
    {
        CautionsRead = true,
        LatitudeDegrees = 52.2,
        HeightMetres = 34,
        Weights = [new WeightRequest { Name = "one", Kilograms = 1, Basis = "M1" },
            new WeightRequest { Name = "two", Kilograms = 2, Basis = "M1" }],
        Steps = 3,
        PreloadCycles = 1,
        RisingSeries = 1,
        FallingSeries = 0,
        DwellSeconds = 0,
        ZeroReturnSeconds = 0,
        WarmUpSeconds = 1,
        FullScaleNewtons = 500,
        NonLinearityPercent = 0.03,
        NonLinearityOfBestLine = true,
        TemperaturePercentPerKelvin = 0.002,
        TemperatureSpreadKelvin = 5,
        Amplifier = "gain 128",
        Remarks = "On the bench.",
        LeverRatio = 10,
        LeverStandardUncertainty = 0.01,
    };

    [Fact]
    public async Task A_stopped_calibration_goes_on_after_the_daemon_started_again_and_is_over_once_it_is_accepted()
    {
        await using var rig = new FakeRig();
        var data = new FakeData();
        int done;
        await using (var first = new CalibrationService(rig, data, TimeProvider.System))
        {
            Assert.True((await first.BeginAsync(Ask)).Done);
            CalibrationView before = await LedAsync(rig, first, view => view.Series == "1" && view.Done >= 4);
            done = before.Done;
        }

        await using (var second = new CalibrationService(rig, data, TimeProvider.System))
        {
            CalibrationView kept = CalibrationView.Of(second.Look(1), Core.Quantities.Units.Si);
            Assert.Equal("paused", kept.Phase);
            Assert.Equal(done, kept.Done);
            Assert.Contains("are saved", kept.Prompts[^1].Text, StringComparison.Ordinal);
            Assert.True(second.Do("Resume").Done);
            await LedAsync(rig, second, view => view.Phase == "review");
            Assert.Null(data.Kept);
            Result accepted = await second.AcceptAsync(1);
            Assert.True(accepted.Done, string.Join(" ", accepted.Reasons));
        }

        CalibrationRecord record = data.Kept!;
        Assert.Equal(0.001, record.Curve.Coefficients[0], 0.00001); // The fake cell's 1,000 counts a newton.
        // 3 kg at the long arm of 10 : 1; 9.8126 m/s² by GRS80 and free air at 52.2°, 34 m, less the air's buoyancy of 0.015 %.
        Assert.Equal(10 * 3 * 9.8126 * (1 - 0.00015), record.GreatestReferenceNewtons, 0.02);
        Assert.Contains(record.Readings[^2].Reference.Shares, share => share.Source == "ratio of the lever");
        Assert.Equal(Ask.Inputs, record.Uncertainty!.Inputs);
        Assert.Equal("gain 128", record.Circumstances!.AmplifierSetting);
        Assert.StartsWith("On the bench.", record.Circumstances.Remarks, StringComparison.Ordinal);
        await using var third = new CalibrationService(rig, data, TimeProvider.System);
        Assert.Equal("none", CalibrationView.Of(third.Look(1), Core.Quantities.Units.Si).Phase);
    }

    [Fact]
    public async Task A_calibration_that_was_given_up_does_not_come_back()
    {
        await using var rig = new FakeRig();
        var data = new FakeData();
        await using (var first = new CalibrationService(rig, data, TimeProvider.System))
        {
            Assert.True((await first.BeginAsync(Ask)).Done);
            Assert.True(first.Do("Abandon").Done);
        }

        Assert.NotEmpty(data.Guides);
        await using var second = new CalibrationService(rig, data, TimeProvider.System);
        Assert.Equal("none", CalibrationView.Of(second.Look(1), Core.Quantities.Units.Si).Phase);
    }

    [Fact]
    public async Task One_that_broke_off_is_told_and_another_can_be_begun_and_everything_ends_in_order()
    {
        await using var rig = new FakeRig();
        var data = new FakeData { KeepingFails = new NotSupportedException("The disk speaks in tongues.") };
        await using var desk = new CalibrationService(rig, data, TimeProvider.System);
        Assert.True((await desk.BeginAsync(Ask)).Done);
        await UntilAsync(() => CalibrationView.Of(desk.Look(1), Core.Quantities.Units.Si).Prompts
            .Any(p => p.Text.Contains("broke off: The disk speaks in tongues.", StringComparison.Ordinal)));
        data.KeepingFails = null;
        Assert.True((await desk.BeginAsync(Ask)).Done);
        Assert.DoesNotContain(CalibrationView.Of(desk.Look(1), Core.Quantities.Units.Si).Prompts,
            p => p.Text.Contains("broke off", StringComparison.Ordinal));
        await LedAsync(rig, desk, view => view.Series == "1");
    }

    [Fact]
    public async Task A_step_that_may_not_be_kept_is_told_and_the_calibration_goes_on()
    {
        await using var rig = new FakeRig();
        var data = new FakeData { KeepingFails = new UnauthorizedAccessException("No right to write.") };
        await using var desk = new CalibrationService(rig, data, TimeProvider.System);
        Assert.True((await desk.BeginAsync(Ask)).Done);
        await UntilAsync(() => CalibrationView.Of(desk.Look(1), Core.Quantities.Units.Si).Prompts
            .Any(p => p.Text.Contains("No right to write.", StringComparison.Ordinal)));
        await LedAsync(rig, desk, view => view.Series == "1");
    }

    [Fact]
    public async Task Accepting_twice_keeps_one_record_though_the_rig_refused_at_first()
    {
        await using var rig = new FakeRig();
        var data = new FakeData();
        await using var desk = new CalibrationService(rig, data, TimeProvider.System);
        Assert.True((await desk.BeginAsync(Ask)).Done);
        await LedAsync(rig, desk, view => view.Phase == "review");
        rig.Refusal = "The sequence is moving the crosshead.";
        Result[] refused = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() => desk.AcceptAsync(1))));
        Assert.All(refused, r => Assert.False(r.Done));
        rig.Refusal = null;
        Result[] accepted = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() => desk.AcceptAsync(1))));
        Assert.Single(accepted, r => r.Done);
        Assert.Equal(1, data.KeptCount);
        Assert.Equal(data.Kept, rig.Snapshot.Calibration);
    }

    [Fact]
    public async Task A_lever_needs_the_uncertainty_of_its_ratio()
    {
        await using var rig = new FakeRig();
        await using var desk = new CalibrationService(rig, new FakeData(), TimeProvider.System);
        Result refused = await desk.BeginAsync(Ask with { LeverStandardUncertainty = null });
        Assert.False(refused.Done);
        Assert.Contains("how far the lever's ratio may be off", refused.Reasons[0], StringComparison.Ordinal);
    }

    private static async Task UntilAsync(Func<bool> seen)
    {
        long end = Environment.TickCount64 + (long)Bound.TotalMilliseconds;
        while (!seen())
        {
            Assert.True(Environment.TickCount64 < end);
            await Task.Delay(20, TestContext.Current.CancellationToken); // The fake rig's samples come by a timer.
        }
    }

    private static async Task<CalibrationView> LedAsync(FakeRig rig, CalibrationService desk, Func<CalibrationView, bool> until)
    {
        long end = Environment.TickCount64 + (long)Bound.TotalMilliseconds;
        while (true)
        {
            CalibrationView view = CalibrationView.Of(desk.Look(1), Core.Quantities.Units.Si);
            if (until(view)) return view;
            Assert.True(Environment.TickCount64 < end, $"{view.Phase}: {view.Instruction}");
            if (view.WantedNewtons is { } wanted) rig.Hang(wanted);
            await Task.Delay(100, TestContext.Current.CancellationToken); // As often as a page looks.
        }
    }
}
