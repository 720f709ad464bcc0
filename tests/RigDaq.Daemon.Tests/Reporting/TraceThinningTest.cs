using RigDaq.App.Reporting;
using RigDaq.Core.Trace;

namespace RigDaq.Daemon.Tests.Reporting;

public sealed class TraceThinningTest
{
    [Fact]
    public void Peak_and_break_stay_and_nothing_is_drawn_beside_where_it_lies()
    {
        var random = new Random(5);
        double[] times = [.. Enumerable.Range(0, 40_000).Select(i => i / 2000.0)];
        double[] forces = [.. times.Select(t => t < 1 ? 0 : t < 19 ? 500 * Math.Sin((t - 1) / 18 * 1.4) + (random.NextDouble() * .2) : 0)];
        (double[] thinTimes, double[] thinForces) = TraceThinning.Thin(new ForceTrace { TimesSeconds = times, ForcesNewtons = forces });
        Assert.Equal(forces.Max(), thinForces.Max());
        Assert.InRange(thinTimes.Length, 10, 200);
        // Every sample against the line that is drawn: within the tolerance, the noise, and the steps between the samples that stay.
        double allowed = (TraceThinning.Tolerance * 500) + .2 + .1;
        for (int i = 0; i < times.Length; i += 7)
        {
            int after = Array.FindIndex(thinTimes, time => time >= times[i]);
            if (after <= 0 || Math.Abs(times[i] - 19) < .05) continue;
            double share = (times[i] - thinTimes[after - 1]) / (thinTimes[after] - thinTimes[after - 1]);
            Assert.Equal(forces[i], thinForces[after - 1] + (share * (thinForces[after] - thinForces[after - 1])), allowed);
        }
    }

    [Fact]
    public void A_trace_of_no_or_few_samples_stays_as_it_is()
    {
        Assert.Empty(TraceThinning.Thin(new ForceTrace { TimesSeconds = [], ForcesNewtons = [] }).TimesSeconds);
        Assert.Equal([0d, 5, 1], TraceThinning.Thin(new ForceTrace { TimesSeconds = [0, 1, 2], ForcesNewtons = [0, 5, 1] }).ForcesNewtons);
    }
}
