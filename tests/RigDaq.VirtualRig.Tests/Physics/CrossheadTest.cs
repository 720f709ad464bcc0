using RigDaq.Virtual.Physics;

namespace RigDaq.Virtual.Tests.Physics;

/// <summary>Against the kinematics of constant acceleration: x = v·t + a·t²/2, v² = 2·a·x (any school book).</summary>
public class CrossheadTest
{
    [Theory]
    [InlineData(0.001)]
    [InlineData(0.0007)]
    [InlineData(0.5)]
    public void A_run_up_covers_half_a_t_squared_and_then_goes_evenly(double portion)
    {
        var crosshead = new Crosshead(10);
        crosshead.RunAt(2, 4);
        Pass(crosshead, 0.5, portion);
        Assert.Equal(10 + (0.5 * 4 * 0.25), crosshead.PositionMillimetres, 1e-9);
        Assert.Equal(2, crosshead.SpeedMillimetresPerSecond, 1e-9);
        Pass(crosshead, 3, portion);
        Assert.Equal(10.5 + 6, crosshead.PositionMillimetres, 1e-9);
    }

    [Fact]
    public void A_long_way_is_a_trapezoid_and_a_short_one_a_triangle()
    {
        // Trapezoid: v/a + s/v; triangle: 2·sqrt(s/a).
        Assert.Equal((5.0 / 20) + (40.0 / 5), TimeTo(0, 40, 5, 20), 0.001);
        Assert.Equal(2 * Math.Sqrt(0.3 / 20), TimeTo(0, 0.3, 5, 20), 0.001);
        Assert.Equal((5.0 / 20) + (40.0 / 5), TimeTo(40, 0, 5, 20), 0.001);
    }

    [Theory]
    [InlineData(3, 20)]
    [InlineData(3, 0.05)]
    [InlineData(-3, 20)]
    [InlineData(3, -8)]
    [InlineData(8, 20)]
    public void A_way_that_begins_in_motion_ends_on_its_target_at_rest(double startSpeed, double target)
    {
        var crosshead = new Crosshead(0);
        crosshead.RunAt(startSpeed, 1e9);
        Pass(crosshead, 0.001, 0.001);
        crosshead.GoTo(target, 5, 10);
        double greatest = 0, before = crosshead.SpeedMillimetresPerSecond, jump = 0;
        for (int i = 0; i < 60_000 && crosshead.IsMoving; i++)
        {
            crosshead.Advance(0.0005);
            jump = Math.Max(jump, Math.Abs(crosshead.SpeedMillimetresPerSecond - before));
            before = crosshead.SpeedMillimetresPerSecond;
            greatest = Math.Max(greatest, Math.Abs(before));
        }

        Assert.False(crosshead.IsMoving);
        Assert.Equal(target, crosshead.PositionMillimetres);
        Assert.True(greatest <= Math.Max(5, Math.Abs(startSpeed)) + 1e-9);
        // Never a jump of speed beyond the acceleration, the last step to rest included.
        Assert.True(jump <= (10 * 0.0005) + 1e-6, $"The speed jumped by {jump} mm/s.");
    }

    [Fact]
    public void A_bound_is_held_to_the_last_bit_and_only_outwards()
    {
        var crosshead = new Crosshead(0) { UpperBoundMillimetres = 1 };
        crosshead.RunAt(7, 1000);
        Pass(crosshead, 1, 0.001);
        Assert.Equal(1, crosshead.PositionMillimetres);
        Assert.Equal(1, crosshead.BoundHit);
        Assert.False(crosshead.IsMoving);
        crosshead.RunAt(-1, 1000);
        Pass(crosshead, 0.5, 0.001);
        Assert.True(crosshead.IsMoving);
        Assert.Equal(0, crosshead.BoundHit);
    }

    private static double TimeTo(double from, double target, double speed, double acceleration)
    {
        var crosshead = new Crosshead(from);
        crosshead.GoTo(target, speed, acceleration);
        int steps = 0;
        for (; crosshead.IsMoving; steps++) crosshead.Advance(0.0005);
        Assert.Equal(target, crosshead.PositionMillimetres);
        return steps * 0.0005;
    }

    private static void Pass(Crosshead crosshead, double seconds, double portion)
    {
        for (double left = seconds; left > 1e-12; left -= portion) crosshead.Advance(Math.Min(left, portion));
    }
}
