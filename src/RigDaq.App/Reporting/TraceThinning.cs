using RigDaq.Core.Trace;

namespace RigDaq.App.Reporting;

/// <summary>
/// Thins a trace out for a picture. The least and the greatest force of each stretch stay, so that no peak and no break is lost; then every
/// point that a straight line through its neighbours meets within a share of the greatest force goes (Ramer 1972; Douglas and Peucker 1973,
/// with the distance taken along the force).
/// </summary>
internal static class TraceThinning
{
    /// <summary>Stretches of a trace; each gives two points at most.</summary>
    public const int Stretches = 400;

    /// <summary>How far a left-out point may lie from what is drawn, as a share of the greatest force: half a dot of a picture 1,000 dots
    /// high.</summary>
    public const double Tolerance = 0.0005;

    public static (double[] TimesSeconds, double[] ForcesNewtons) Thin(ForceTrace trace)
    {
        (double[] times, double[] forces) = Extremes(trace.TimesSeconds, trace.ForcesNewtons);
        bool[] kept = Kept(times, forces, Tolerance * forces.DefaultIfEmpty(0).Max(Math.Abs));
        return ([.. times.Where((_, i) => kept[i])], [.. forces.Where((_, i) => kept[i])]);
    }

    private static (double[] Times, double[] Forces) Extremes(double[] times, double[] forces)
    {
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

    private static bool[] Kept(double[] times, double[] forces, double tolerance)
    {
        var kept = new bool[times.Length];
        if (times.Length == 0) return kept;
        kept[0] = kept[^1] = true;
        var open = new Stack<(int From, int To)>();
        open.Push((0, times.Length - 1));
        while (open.TryPop(out (int From, int To) part))
        {
            int farthest = -1;
            double most = tolerance;
            for (int i = part.From + 1; i < part.To; i++)
            {
                double span = times[part.To] - times[part.From];
                double share = span > 0 ? (times[i] - times[part.From]) / span : 0;
                double distance = Math.Abs(forces[i] - (forces[part.From] + (share * (forces[part.To] - forces[part.From]))));
                if (distance > most) (farthest, most) = (i, distance);
            }

            if (farthest < 0) continue;
            kept[farthest] = true;
            open.Push((part.From, farthest));
            open.Push((farthest, part.To));
        }

        return kept;
    }
}
