using RigDaq.Core.Signal;

namespace RigDaq.Daemon.Reporting;

/// <summary>Thins a trace out for a picture: the least and the greatest force of each stretch stay, so that no peak and no break is lost.</summary>
internal static class TraceThinning
{
    /// <summary>Stretches of a thinned trace; each gives two points.</summary>
    public const int Stretches = 400;

    public static (double[] TimesSeconds, double[] ForcesNewtons) Thin(ForceTrace trace)
    {
        double[] times = trace.TimesSeconds, forces = trace.ForcesNewtons;
        if (times.Length <= 2 * Stretches) return (times, forces);
        var thinTimes = new double[2 * Stretches];
        var thinForces = new double[2 * Stretches];
        for (int stretch = 0; stretch < Stretches; stretch++)
        {
            int from = (int)((long)stretch * times.Length / Stretches), to = (int)((long)(stretch + 1) * times.Length / Stretches);
            int least = from, greatest = from;
            for (int i = from + 1; i < to; i++)
            {
                if (forces[i] < forces[least]) least = i;
                if (forces[i] > forces[greatest]) greatest = i;
            }

            (int first, int second) = least < greatest ? (least, greatest) : (greatest, least);
            (thinTimes[2 * stretch], thinForces[2 * stretch]) = (times[first], forces[first]);
            (thinTimes[(2 * stretch) + 1], thinForces[(2 * stretch) + 1]) = (times[second], forces[second]);
        }

        return (thinTimes, thinForces);
    }
}
