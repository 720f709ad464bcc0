using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>
/// Looks for the sudden end of a fall that as a whole was slow: a specimen that drew and then parted reads as slipped out by the rule, and
/// so does one that slid and was let go at last. Force alone cannot tell the two, but that there was a sudden end can be said.
/// </summary>
internal static class SuddenParting
{
    // A fall within this time, or two samples where they are farther apart, is sudden.
    private const double SuddenSeconds = 0.02;
    private const int SuddenSamples = 2;

    // It is of this share of the greatest force at least, of so much of what was borne, far out of the noise.
    private const double GreatestShare = 0.1;
    private const double BorneShare = 0.6;
    private const double NoisesMin = 10;

    // And this many times as steep as the fall before it.
    private const double Steeper = 5;

    /// <summary>Finds it.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="fall">The slow fall.</param>
    /// <param name="settings">How a break is told.</param>
    /// <returns>The last sample before the sudden end; null where there is none.</returns>
    public static int? Find(LoadedTrace trace, Fall fall, DetectionSettings settings)
    {
        (double[] times, double[] forces, int contact, double noise) = (trace.Times, trace.Forces, trace.Contact, trace.Noise);
        double greatest = 0;
        for (int i = contact; i < fall.Crossing; i++) greatest = Math.Max(greatest, forces[i]);
        int slow = fall.Crossing;
        while (slow > contact && forces[slow] < settings.FallFromPercent / 100 * greatest) slow--;
        int best = -1;
        double deepest = 0;
        for (int i = slow; i < forces.Length - SuddenSamples; i++)
        {
            double drop = forces[i] - forces[Until(times, i)];
            if (drop <= deepest) continue;
            deepest = drop;
            best = i;
        }

        if (best <= slow || deepest < Math.Max(GreatestShare * greatest, NoisesMin * noise)) return null;
        int after = Until(times, best);
        double left = Median.Of(forces.AsSpan(after, Math.Min(BreakDetector.SamplesMin, forces.Length - after)));
        if (forces[best] - left < BorneShare * forces[best]) return null;
        double before = (forces[slow] - forces[best]) / Math.Max(times[best] - times[slow], double.Epsilon);
        return deepest / Math.Max(times[after] - times[best], double.Epsilon) >= Steeper * before ? best : null;
    }

    private static int Until(double[] times, int from)
    {
        int to = Math.Min(from + SuddenSamples, times.Length - 1);
        while (to < times.Length - 1 && times[to + 1] - times[from] <= SuddenSeconds) to++;
        return to;
    }
}
