using RigDaq.Core.Compliance;

namespace RigDaq.Core.Tests.Strength;

/// <summary>
/// A crosshead on a bar that is linear or beds in, with everything that is seen and commanded late by up to five seconds: a made-up world
/// whose force is known. It starts between steps of its own, so that a step is never just right.
/// </summary>
public sealed class BarLeashTest
{
    private const double Force = 120, Aim = 1.03 * Force, Limit = 1.25 * Force, Noise = 0.03;

    public static TheoryData<double, double, double, int> Worlds()
    {
        var worlds = new TheoryData<double, double, double, int>();
        foreach (double stiffness in new[] { 200.0, 1538, 6000, 18_000 })
        {
            foreach (double toe in new[] { 0.0, 0.05 })
            {
                foreach (double lateSeconds in new[] { 0.05, 1, 5 }) worlds.Add(stiffness, toe, lateSeconds, 1600);
            }
        }

        worlds.Add(1538, 0.05, 5, 400);
        return worlds;
    }

    [Theory]
    [MemberData(nameof(Worlds))]
    public void However_late_the_line_the_force_comes_to_the_aim_and_stays_below_the_limit_and_the_bar_is_not_pushed(
        double stiffness, double toeMillimetres, double lateSeconds, int stepsPerMillimetre)
    {
        double step = 1.0 / stepsPerMillimetre;
        var leash = new BarLeash(Aim, Limit, Noise, step);
        var random = new Random(4);
        double slack = 0.0202, position = 0, greatest = 0;

        // Standing at the end of the leash each time is what the worst latency comes to.
        bool reached = false;
        for (int looks = 0; looks < 20_000 && !reached; looks++)
        {
            double seen = True(position) + Gaussian(random) * Noise;
            leash.See(position, seen);
            reached = seen >= Force;
            if (reached) break;
            double end = Math.Round(leash.Apart(position, seen) / step) * step;
            // Where the line is quick it is looked at before the end; where it is slow the crosshead stands there.
            position = Math.Min(end, position + Math.Max(step, 0.05 * lateSeconds));
            greatest = Math.Max(greatest, True(position));
        }

        Assert.True(reached);
        Assert.InRange(greatest, Force * 0.99, 0.99 * Limit);
        for (int looks = 0; looks < 20_000 && True(position) > 0.03 * Force; looks++)
        {
            position = Math.Max(0, Math.Round(leash.Together(position, True(position) + (Gaussian(random) * Noise)) / step) * step);
        }

        // Let go, and not one step further: with no slack that would push the bar.
        Assert.InRange(True(position), 0, 0.03 * Force);
        Assert.InRange(position, slack - step, double.MaxValue);

        // A bar in grips that bed in: softer by half at first, over the toe (a quadratic start).
        double True(double at)
        {
            double way = at - slack;
            if (way <= 0) return 0;
            return toeMillimetres > 0 && way < toeMillimetres
                ? stiffness * way * way / (2 * toeMillimetres)
                : stiffness * (way - (toeMillimetres / 2));
        }
    }

    [Fact]
    public void The_stiffness_is_learnt_from_the_first_newtons_and_counts_as_the_greatest_before()
    {
        var leash = new BarLeash(Aim, Limit, Noise, 1.0 / 1600);
        Assert.Equal(0.2 * Aim / BarLeash.StiffnessMaxNewtonsPerMillimetre, leash.Apart(0, 0.2 * Aim), 1e-9);
        Assert.Equal(1.0 / 1600, leash.Apart(0, 0), 1e-9);
        for (int i = 0; i <= 20; i++) leash.See(i * 0.001, i * 1.5);
        Assert.Equal(1500, leash.StiffnessNewtonsPerMillimetre!.Value, 1.0);
        Assert.Equal(0.02 + (30.0 / 1500), leash.Apart(0.02, 30), 1e-6);
        Assert.Equal(0.02 - (30.0 / 1500), leash.Together(0.02, 30), 1e-6);
    }

    private static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
