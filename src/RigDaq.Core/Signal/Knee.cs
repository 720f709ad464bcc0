namespace RigDaq.Core.Signal;

/// <summary>
/// Finds where a fall starts: the sample that stands farthest above the straight line from the peak to the sample below the
/// limit, moved on to the last one that has not left the level there by more than the noise.
/// </summary>
internal static class Knee
{
    // Below the level by more than this many standard deviations, or by this share of it, a sample belongs to the fall.
    private const double NoisesMax = 4;
    private const double ShareMax = 0.002;
    private const int LevelSamples = 5;

    /// <summary>Finds it.</summary>
    /// <param name="times">Of the despiked samples.</param>
    /// <param name="forces">Newtons above zero.</param>
    /// <param name="contact">The first sample in contact.</param>
    /// <param name="crossing">The first sample below the limit.</param>
    /// <param name="noise">The standard deviation of the noise in newtons.</param>
    /// <returns>The last sample before the fall.</returns>
    public static int Find(double[] times, double[] forces, int contact, int crossing, double noise)
    {
        int peak = contact;
        for (int i = contact; i < crossing; i++)
        {
            if (forces[i] >= forces[peak]) peak = i;
        }

        double span = Math.Max(times[crossing] - times[peak], double.Epsilon);
        int knee = peak;
        double farthest = 0;
        for (int i = peak; i < crossing; i++)
        {
            // In units of the two legs of the line, so that seconds and newtons weigh alike.
            double above = ((forces[i] - forces[crossing]) / Math.Max(forces[peak] - forces[crossing], double.Epsilon))
                - ((times[crossing] - times[i]) / span);
            if (above < farthest) continue;
            farthest = above;
            knee = i;
        }

        double level = Median.Of(forces.AsSpan(Math.Max(contact, knee - LevelSamples + 1), knee - Math.Max(contact, knee - LevelSamples + 1) + 1));
        double floor = Math.Min(level, forces[knee]) - Math.Max(NoisesMax * noise, ShareMax * level);
        int start = knee;
        for (int i = knee + 1; i < crossing && forces[i] >= floor; i++) start = i;
        return start;
    }
}
