namespace RigDaq.Core.Trace;

/// <summary>What the force did on its way to the end.</summary>
/// <param name="Drops">Sudden falls that recovered.</param>
/// <param name="SlowFalls">Slow ones that did: a yielding plastic, or a specimen that slid and held again.</param>
internal readonly record struct Undulations(IReadOnlyList<LoadDrop> Drops, IReadOnlyList<LoadDrop> SlowFalls);

/// <summary>Finds falls that recovered, by the turning points of the trace that are farther apart than noise.</summary>
internal static class LoadDropFinder
{
    // A turning point counts where the force goes on from it by this many standard deviations and this share of the greatest force of the
    // whole pull: by the greatest so far a wiggle in the toe would count.
    private const double NoisesMin = 8;
    private const double ShareMin = 0.02;

    // A fall has recovered when this share of its depth is made up for.
    private const double RecoveredShare = 0.5;

    /// <summary>Finds them from contact to the start of the last fall.</summary>
    public static Undulations Find(LoadedTrace trace, int end, double noise, double fallSeconds)
    {
        (double[] times, double[] forces, int contact) = (trace.Times, trace.Forces, trace.Contact);
        var drops = new List<LoadDrop>();
        var slow = new List<LoadDrop>();
        int high = contact;
        int low = contact;
        bool falling = false;
        double greatest = 0;
        for (int i = contact; i <= end; i++) greatest = Math.Max(greatest, forces[i]);
        double threshold = Math.Max(NoisesMin * noise, ShareMin * greatest);
        for (int i = contact; i <= end; i++)
        {
            double force = forces[i];
            if (!falling)
            {
                if (force >= forces[high]) high = i;
                if (force < forces[high] - threshold)
                {
                    falling = true;
                    low = i;
                }
            }
            else
            {
                if (force <= forces[low]) low = i;
                double depth = forces[high] - forces[low];
                if (force - forces[low] >= Math.Max(threshold, RecoveredShare * depth))
                {
                    (CentralSeconds(times, forces, high, low) <= fallSeconds ? drops : slow).Add(new LoadDrop(times[high], depth));
                    falling = false;
                    high = i;
                }
                else if (force >= forces[high])
                {
                    falling = false;
                    high = i;
                }
            }
        }

        return new Undulations(drops, slow);
    }

    /// <summary>How long the middle half of the fall took: what tells a pop from a yield, whatever the slopes round it.</summary>
    private static double CentralSeconds(double[] times, double[] forces, int high, int low)
    {
        double depth = forces[high] - forces[low];
        int from = high;
        for (int i = high; i <= low; i++)
        {
            if (forces[i] >= forces[low] + (0.75 * depth)) from = i;
        }

        int to = from;
        while (to < low && forces[to] > forces[low] + (0.25 * depth)) to++;
        return to - from <= 1 ? 0 : times[to] - times[from];
    }
}
