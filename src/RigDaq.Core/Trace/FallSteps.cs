using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>Finds the sudden steps in which a specimen lost load for good: within the time of a sudden fall, and nearly all of what was
/// lost in three times that time, so that no piece of a slow fall is one; and never made up for.</summary>
internal static class FallSteps
{
    // A step is this share of the greatest force at the least, and far out of the noise.
    private const double ShareMin = 0.1;
    private const double NoisesMin = 8;

    // Of what was lost in three windows this share is lost in the middle one; an even fall loses a third.
    private const double InsideShare = 0.6;

    // What drops within this share of the window is a jump, and after a rest what follows it is another one: a rest loses less than
    // this share of the jump in the jump's own time.
    private const double JumpShare = 0.25;
    private const double RestShare = 0.25;

    // Where a step begins and ends: this share of it from its levels.
    private const double EdgeShare = 0.05;

    // More steps than this are a saw-tooth, not a specimen that breaks.
    private const int StepsMax = 64;

    /// <summary>A step, by its samples.</summary>
    internal readonly record struct Step(int Start, int Left, LoadStep Load)
    {
        public double Depth => Load.ForceNewtons - Load.LeftNewtons;
    }

    /// <summary>Finds them, in order of time.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="windowSeconds">The time of a sudden fall; two samples are always within it.</param>
    public static IReadOnlyList<Step> Find(LoadedTrace trace, double windowSeconds)
    {
        (double[] times, double[] forces, int contact, double noise) = (trace.Times, trace.Forces, trace.Contact, trace.Noise);
        int n = forces.Length;
        double greatest = 0;
        for (int i = contact; i < n; i++) greatest = Math.Max(greatest, forces[i]);
        double depthMin = Math.Max(ShareMin * greatest, NoisesMin * noise);
        int[] lowest = LowestWithin(times, forces, contact, windowSeconds);
        var candidates = new List<int>();
        for (int i = contact; i < n - 1; i++)
        {
            if (forces[i] - forces[lowest[i]] >= depthMin) candidates.Add(i);
        }

        var laterGreatest = new double[n + 1];
        laterGreatest[n] = double.NegativeInfinity;
        for (int i = n - 1; i >= contact; i--) laterGreatest[i] = Math.Max(laterGreatest[i + 1], forces[i]);
        var steps = new List<Step>();
        var taken = new bool[n];
        foreach (int i in candidates.OrderByDescending(i => forces[i] - forces[lowest[i]]).ThenBy(i => i))
        {
            if (steps.Count == StepsMax) break;
            int end = lowest[i];
            if (taken[i] || taken[end]) continue;
            double depth = forces[i] - forces[end];
            Array.Fill(taken, true, i, end - i + 1);
            int start = i, left = end;
            for (int k = i; k <= end; k++)
            {
                if (forces[k] >= forces[i] - (EdgeShare * depth) - (2 * noise)) start = k;
            }

            while (left > start + 1 && forces[left - 1] <= forces[end] + (EdgeShare * depth) + (2 * noise)) left--;
            bool jumps = left - start == 1 || times[left] - times[start] <= JumpShare * windowSeconds;
            if (depth < InsideShare * (jumps ? AroundJump(times, forces, contact, start, left, windowSeconds)
                : Around(times, forces, contact, i, end, windowSeconds)))
                continue;
            double leftNewtons = Median.Of(forces.AsSpan(left, Math.Min(BreakDetector.SamplesMin, n - left)));
            if (left + BreakDetector.SamplesMin > n) leftNewtons = Math.Min(leftNewtons, forces[n - 1]);
            if (laterGreatest[left] >= forces[start] - ((1 - FallFinder.RecoveredShare) * depth)) continue;
            steps.Add(new Step(start, left, new LoadStep(times[start], forces[start], leftNewtons)));
        }

        return [.. steps.OrderBy(step => step.Start)];
    }

    /// <summary>Where the force is lowest within a window after each sample.</summary>
    private static int[] LowestWithin(double[] times, double[] forces, int contact, double seconds)
    {
        int n = forces.Length;
        var lowest = new int[n];
        var rising = new int[n];
        int head = 0, tail = 0, to = contact;
        for (int i = contact; i < n; i++)
        {
            while (to < n && (to <= i + FallFinder.SuddenIntervals || times[to] - times[i] <= seconds))
            {
                while (tail > head && forces[rising[tail - 1]] > forces[to]) tail--;
                rising[tail++] = to++;
            }

            while (rising[head] < i) head++;
            lowest[i] = rising[head];
        }

        return lowest;
    }

    /// <summary>What was lost about a jump, up to where it rests on either side: two strands that break one soon after the other are two
    /// jumps, and no even fall.</summary>
    private static double AroundJump(double[] times, double[] forces, int contact, int start, int left, double seconds)
    {
        int jump = left - start;
        double rest = RestShare * (forces[start] - forces[left]);
        double high = forces[start], low = forces[left];
        for (int k = start; k - jump >= contact && times[start] - times[k] <= seconds && forces[k - jump] - forces[k] >= rest; k--)
            high = Math.Max(high, forces[k - jump]);
        for (int k = left; k + jump < forces.Length && times[k] - times[left] <= seconds && forces[k] - forces[k + jump] >= rest; k++)
            low = Math.Min(low, forces[k + jump]);
        return high - low;
    }

    /// <summary>What was lost from a window before a step to a window after it.</summary>
    private static double Around(double[] times, double[] forces, int contact, int start, int end, double seconds)
    {
        double high = forces[start], low = forces[end];
        for (int k = start - 1; k >= contact && (times[start] - times[k] <= seconds || start - k <= FallFinder.SuddenIntervals); k--)
            high = Math.Max(high, forces[k]);
        for (int k = end + 1; k < forces.Length && (times[k] - times[end] <= seconds || k - end <= FallFinder.SuddenIntervals); k++)
            low = Math.Min(low, forces[k]);
        return high - low;
    }
}
