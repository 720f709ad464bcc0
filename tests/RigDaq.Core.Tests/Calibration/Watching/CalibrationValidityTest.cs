using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Calibration.Watching;

public sealed class CalibrationValidityTest
{
    private static readonly DateTimeOffset Accepted = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private static readonly CurrentRig Rig = new("00000000000000aa", "100 kg, no. 7", "gain 128");

    private static readonly CalibrationRecord Calibration = new()
    {
        Id = "cal",
        DeviceId = Rig.DeviceId,
        AcceptedAt = Accepted,
        ValidUntil = Accepted.AddYears(1),
        Curve = new ForceCurve([1e-3]),
        GreatestReferenceNewtons = 98,
        Circumstances = new CalibrationCircumstances { Cell = Rig.Cell, AmplifierSetting = Rig.AmplifierSetting },
    };

    [Fact]
    public void Holds_for_its_year_on_its_rig() => Assert.True(Judge(Accepted.AddMonths(6), Rig).Holds);

    [Fact]
    public void Warns_in_its_last_month_and_then_ends()
    {
        Assert.NotEmpty(Judge(Accepted.AddDays(340), Rig).Warnings);
        Assert.Equal("It ended on 2027-03-01.", Assert.Single(Judge(Accepted.AddYears(1), Rig).Reasons));
    }

    [Fact]
    public void Says_what_was_changed()
    {
        var changed = Judge(Accepted.AddDays(1), Rig with { AmplifierSetting = "gain 64", Cell = "50 kg, no. 2" });
        Assert.Equal(["The cell was “100 kg, no. 7” and is “50 kg, no. 2” now.",
            "The amplifier's setting was “gain 128” and is “gain 64” now."], changed.Reasons.AsKept());
        Assert.Single(Judge(Accepted.AddDays(1), Rig with { DeviceId = "00000000000000bb" }).Reasons);
    }

    [Fact]
    public void Ends_with_an_overload_but_not_with_one_from_before()
    {
        CalibrationInvalidation before = new(Accepted.AddDays(-1), Rig.DeviceId, InvalidationKind.Overload,
            Sentence.Verbatim("1,300 N on a cell of 981 N"));
        CalibrationInvalidation after = before with { At = Accepted.AddDays(9) };
        Assert.True(Judge(Accepted.AddDays(10), Rig, before).Holds);
        Assert.Equal("The cell was overloaded on 2026-03-10 09:00: 1,300 N on a cell of 981 N",
            Assert.Single(Judge(Accepted.AddDays(10), Rig, before, after).Reasons));
        Assert.True(Judge(Accepted.AddDays(10), Rig, after with { DeviceId = "00000000000000bb" }).Holds);
    }

    [Fact]
    public void Takes_the_newest_that_holds()
    {
        var newer = Calibration with { Id = "newer", AcceptedAt = Accepted.AddDays(5), DeviceId = "00000000000000bb" };
        Assert.Equal("cal", CalibrationValidity.InForce([newer, Calibration], Accepted.AddDays(6), Rig, [])!.Id);
        Assert.Null(CalibrationValidity.InForce([newer], Accepted.AddDays(6), Rig, []));
    }

    private static CalibrationValidity Judge(DateTimeOffset now, CurrentRig rig, params CalibrationInvalidation[] happened) =>
        CalibrationValidity.Of(Calibration, now, rig, happened);
}
