using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>The fall of a trace that separates the specimen: the last one, or an earlier sudden one whose remnant climbed again.</summary>
/// <param name="Start">The last sample before it starts.</param>
/// <param name="Crossing">The first sample below the limit.</param>
/// <param name="Seconds">From 1.5 × remaining to remaining; 0 where that is between two samples.</param>
/// <param name="IsSudden">Whether that is a break's time, rests between steps not counted.</param>
/// <param name="LeftNewtons">What is left: after the settling window, or at last where a remnant climbed again.</param>
/// <param name="SettledSamples">How many samples there are from the crossing on.</param>
/// <param name="RemnantClimbed">Whether what was left came back above the limit before the end.</param>
public readonly record struct Fall(int Start, int Crossing, double Seconds, bool IsSudden, double LeftNewtons, int SettledSamples,
    bool RemnantClimbed = false);

/// <summary>
/// Finds it, by the same limits as <see cref="BreakDetector"/> (contact, three samples, levels, bands, settling window), but with all of
/// the trace in sight. So it differs in four things. The detector, which must not let a specimen go that slipped and held, takes three
/// samples above the high level for a recovery; here a stretch above the limit that lasts is one, for its end is seen
/// (<see cref="Ringing"/>). The detector waits four settling windows at the most; here what is left is the median of as many. Here the fall
/// starts at its knee, which the detector has no need to know. And a remnant that climbs again after a break is told from a recovery by the
/// greatest force of all that follows.
/// </summary>
internal static class FallFinder
{
    /// <summary>A force that comes back to this share of what it was has recovered: a grip that slid and held again. A remnant never
    /// carries as much as the whole.</summary>
    public const double RecoveredShare = 0.9;

    /// <summary>So many intervals are a sudden fall's time at any rate: with one sample caught on the way nothing shorter can be
    /// told.</summary>
    public const int SuddenIntervals = 2;

    /// <summary>What times of files are rounded by: a window of six intervals holds six, whatever unit they were written in.</summary>
    public const double RoundingSeconds = 1e-6;

    /// <summary>Finds it.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="settings">How a break is told.</param>
    /// <returns>Null where the force ends above its limit and never broke before.</returns>
    public static Fall? Find(LoadedTrace trace, DetectionSettings settings)
    {
        (double[] times, double[] forces, int contact) = (trace.Times, trace.Forces, trace.Contact);
        int n = forces.Length;
        double remaining = settings.RemainingPercent / 100;
        var maximum = new double[n];
        double running = 0;
        for (int i = contact; i < n; i++) maximum[i] = running = Math.Max(running, forces[i]);
        double[] later = GreatestFrom(forces);
        int held = contact;
        while (true)
        {
            held = HeldUntil(times, forces, maximum, held, remaining);
            if (held >= n - 1) return null;
            int crossing = held + 1;
            int back = NextHeld(times, forces, maximum, crossing, remaining);
            bool atLast = back >= n;
            double greatest = maximum[held];
            double high = settings.FallFromPercent / 100 * greatest;
            var bands = new FallBands(high, remaining * greatest);
            int lastHigh = held;
            while (lastHigh > contact && forces[lastHigh] < high) lastHigh--;
            for (int i = lastHigh; i < crossing; i++) bands.Add(times[i], forces[i], times[i + 1], forces[i + 1]);
            bool sudden = crossing - lastHigh <= SuddenIntervals
                || bands.AreSudden(Math.Max(settings.FallSeconds, SuddenIntervals * trace.IntervalSeconds), trace.Noise);
            bool remnant = !atLast && sudden && times[back] - times[crossing] >= settings.SettlingSeconds - RoundingSeconds
                && back - crossing >= BreakDetector.SamplesMin && later[back] < RecoveredShare * greatest;
            if (atLast || remnant)
            {
                double left = remnant ? AtLast(times, forces, settings.SettlingSeconds)
                    : Left(times, forces, crossing, settings.SettlingSeconds);
                int start = Knee.Find(trace, crossing);
                return new Fall(start, crossing, crossing - lastHigh == 1 ? 0 : bands.Seconds, sudden, left, n - crossing, remnant);
            }

            held = back;
        }
    }

    /// <summary>The median of the last samples: of four settling windows, three samples at least.</summary>
    public static double AtLast(double[] times, double[] forces, double settlingSeconds)
    {
        int n = forces.Length;
        int from = n - 1;
        double window = (BreakDetector.WindowsMax * settlingSeconds) + RoundingSeconds;
        while (from > 0 && (n - from < BreakDetector.SamplesMin || times[n - 1] - times[from - 1] <= window)) from--;
        return Median.Of(forces.AsSpan(from));
    }

    /// <summary>The end of a stretch that is held above the limit; what falls below for a moment and rings is part of it no more.</summary>
    private static int HeldUntil(double[] times, double[] forces, double[] maximum, int from, double remaining)
    {
        int end = from;
        while (end + 1 < forces.Length && forces[end + 1] >= remaining * maximum[end + 1]) end++;
        return end;
    }

    /// <summary>The next sample from which it is held again; the count of samples where it never is.</summary>
    private static int NextHeld(double[] times, double[] forces, double[] maximum, int from, double remaining)
    {
        int n = forces.Length;
        int i = from;
        while (i < n)
        {
            if (forces[i] < remaining * maximum[i])
            {
                i++;
                continue;
            }

            int end = HeldUntil(times, forces, maximum, i, remaining);
            if (end == n - 1 || (end - i + 1 >= BreakDetector.SamplesMin && times[end] - times[i] >= Ringing.HeldSecondsMin)) return i;
            i = end + 1;
        }

        return n;
    }

    private static double[] GreatestFrom(double[] forces)
    {
        var later = new double[forces.Length];
        double greatest = double.NegativeInfinity;
        for (int i = forces.Length - 1; i >= 0; i--) later[i] = greatest = Math.Max(greatest, forces[i]);
        return later;
    }

    private static double Left(double[] times, double[] forces, int crossing, double settlingSeconds)
    {
        int n = forces.Length;
        int from = Math.Min(n, crossing + BreakDetector.SamplesMin);
        while (from < n && times[from] - times[crossing] < settlingSeconds - RoundingSeconds) from++;

        // A recording that stops there has nothing later to show: its last sample is what is known to be left.
        if (from >= n) return n - crossing < BreakDetector.SamplesMin ? forces[n - 1]
            : Math.Min(forces[n - 1], Median.Of(forces.AsSpan(n - BreakDetector.SamplesMin)));

        // What happens much later is another story: a partial break that parts in the end was a partial one.
        int to = from;
        double window = (BreakDetector.WindowsMax * settlingSeconds) + RoundingSeconds;
        while (to < n && (to - from < BreakDetector.SamplesMin || times[to] - times[from] <= window)) to++;
        return Median.Of(forces.AsSpan(from..to));
    }
}
