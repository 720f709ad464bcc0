using RigDaq.Core.Trace;

namespace RigDaq.Core.Tests.Signal;

/// <summary>Small pulls drawn by hand: straight lines between corners, with noise.</summary>
internal static class PullTraces
{
    /// <summary>A force that goes straight from corner to corner.</summary>
    public static ForceTrace Of(double rateHertz, double noise, int seed, params (double Time, double Force)[] corners)
    {
        var gauss = new Gauss(seed);
        int n = (int)(corners[^1].Time * rateHertz);
        var times = new double[n];
        var forces = new double[n];
        for (int i = 0; i < n; i++)
        {
            times[i] = i / rateHertz;
            forces[i] = At(corners, times[i]) + (noise * gauss.Next());
        }

        return new ForceTrace { TimesSeconds = times, ForcesNewtons = forces };
    }

    /// <summary>One second of zero, a straight rise to 800 N in four seconds, a sudden break at 5.0003 s, rest.</summary>
    public static ForceTrace Brittle(double rateHertz = 1000, double noise = 0.5, int seed = 1) =>
        Of(rateHertz, noise, seed, (0, 0), (1, 0), (5.0003, 800), (5.0004, 0), (6, 0));

    private static double At((double Time, double Force)[] corners, double time)
    {
        int i = 1;
        while (i < corners.Length - 1 && corners[i].Time < time) i++;
        (double t0, double f0) = corners[i - 1];
        (double t1, double f1) = corners[i];
        return f0 + ((f1 - f0) * Math.Clamp((time - t0) / (t1 - t0), 0, 1));
    }
}
