namespace RigDaq.Core.Signal;

/// <summary>The last fall of a trace: the one after which the force never came back.</summary>
/// <param name="Start">The last sample before it starts.</param>
/// <param name="Crossing">The first sample below the limit.</param>
/// <param name="Seconds">From 1.5 × remaining to remaining; 0 where that is between two samples.</param>
/// <param name="LeftNewtons">What is left after the settling window.</param>
/// <param name="SettledSamples">How many samples there are from the crossing on.</param>
public readonly record struct Fall(int Start, int Crossing, double Seconds, double LeftNewtons, int SettledSamples);

/// <summary>Finds the last fall of a whole trace, by the same numbers as <see cref="BreakDetector"/> but with all of the trace in sight.</summary>
internal static class FallFinder
{
    // What rings above the limit for less than this is not carried by a specimen.
    private const double RingingSecondsMax = 0.02;

    /// <summary>Finds it.</summary>
    /// <param name="times">Of the despiked samples.</param>
    /// <param name="forces">Newtons above zero.</param>
    /// <param name="contact">The first sample in contact.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="noise">The standard deviation of the noise in newtons.</param>
    /// <returns>Null where the force ends above its limit.</returns>
    public static Fall? Last(double[] times, double[] forces, int contact, DetectionSettings settings, double noise)
    {
        int n = forces.Length;
        double remaining = settings.RemainingPercent / 100;
        var maximum = new double[n];
        double running = 0;
        for (int i = contact; i < n; i++) maximum[i] = running = Math.Max(running, forces[i]);
        int held = LastHeld(times, forces, maximum, contact, remaining);
        if (held == n - 1) return null;
        int crossing = held + 1;
        double greatest = maximum[crossing];
        double high = settings.FallFromPercent / 100 * greatest;
        int lastHigh = held;
        while (lastHigh > contact && forces[lastHigh] < high) lastHigh--;
        double seconds = lastHigh == held
            ? 0
            : Crossing(times, forces, held, remaining * greatest) - Crossing(times, forces, lastHigh, high);
        double left = Left(times, forces, crossing, settings.SettlingSeconds);
        int start = Knee.Find(times, forces, contact, crossing, noise);
        return new Fall(start, crossing, seconds, left, n - crossing);
    }

    /// <summary>The end of the last stretch that the specimen held above the limit.</summary>
    private static int LastHeld(double[] times, double[] forces, double[] maximum, int contact, double remaining)
    {
        int end = forces.Length - 1;
        while (end > contact)
        {
            if (forces[end] < remaining * maximum[end])
            {
                end--;
                continue;
            }

            int start = end;
            while (start > contact && forces[start - 1] >= remaining * maximum[start - 1]) start--;
            bool toTheEnd = end == forces.Length - 1;
            if (start == contact || toTheEnd
                || (end - start + 1 >= BreakDetector.SamplesMin && times[end] - times[start] >= RingingSecondsMax)) return end;
            end = start - 1;
        }

        return contact;
    }

    private static double Left(double[] times, double[] forces, int crossing, double settlingSeconds)
    {
        int n = forces.Length;
        int from = Math.Min(n, crossing + BreakDetector.SamplesMin);
        while (from < n && times[from] - times[crossing] < settlingSeconds) from++;
        if (from >= n) return Median.Of(forces.AsSpan(Math.Max(crossing, n - BreakDetector.SamplesMin)));

        // What happens much later is another story: a partial break that parts in the end was a partial one.
        int to = from;
        while (to < n && (to - from < BreakDetector.SamplesMin || times[to] - times[from] <= BreakDetector.WindowsMax * settlingSeconds)) to++;
        return Median.Of(forces.AsSpan(from..to));
    }

    private static double Crossing(double[] times, double[] forces, int before, double level)
    {
        double fall = forces[before] - forces[before + 1];
        double share = fall > 0 ? Math.Clamp((forces[before] - level) / fall, 0, 1) : 1;
        return times[before] + (share * (times[before + 1] - times[before]));
    }
}
