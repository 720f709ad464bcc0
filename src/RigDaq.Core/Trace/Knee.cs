using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>Finds where a fall starts: the sample that stands farthest above the straight line from the peak to the sample below the limit,
/// moved on to the last one that has not left the level there by more than the noise.</summary>
internal static class Knee
{
    // Below the level by more than this many standard deviations, or by this share of it, a sample belongs to the fall.
    private const double NoisesMax = 4;
    private const double ShareMax = 0.002;

    // A knee stands out of the line by this share of its legs, or the fall starts at the peak: a tear is one straight line.
    private const double StandsOut = 0.05;

    /// <summary>Finds it.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="crossing">The first sample below the limit.</param>
    /// <returns>The last sample before the fall.</returns>
    public static int Find(LoadedTrace trace, int crossing)
    {
        (double[] times, double[] forces, int contact, double noise) = (trace.Times, trace.Forces, trace.Contact, trace.Noise);
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

        if (farthest < StandsOut) knee = peak;
        knee = BackToLevel(times, forces, contact, knee, noise);
        double floor = forces[knee] - Math.Max(1.5 * NoisesMax * noise, ShareMax * forces[knee]);
        int start = knee;
        for (int i = knee + 1; i < crossing && forces[i] >= floor; i++) start = i;
        return start;
    }

    /// <summary>Back from samples that a fall of a few intervals was caught in: a step down that leaves the slope before it by more than
    /// noise, bend and scatter of that slope explain belongs to the fall.</summary>
    private static int BackToLevel(double[] times, double[] forces, int contact, int knee, double noise)
    {
        const int SlopeSamples = 3;
        const int ScatterSamples = 8;
        const double Scatters = 3;
        const double SlopeShare = 0.25;
        Span<double> slopes = stackalloc double[ScatterSamples];
        Span<double> bends = stackalloc double[ScatterSamples];
        while (knee > contact + SlopeSamples)
        {
            int count = Math.Min(ScatterSamples, knee - 1 - contact);
            for (int i = 0; i < count; i++)
            {
                double interval = Math.Max(times[knee - 1 - i] - times[knee - 2 - i], double.Epsilon);
                slopes[i] = (forces[knee - 1 - i] - forces[knee - 2 - i]) / interval;
                if (i > 0) bends[i - 1] = slopes[i - 1] - slopes[i];
            }

            double apart = times[knee] - times[knee - 1];
            double expected = Median.Of(slopes[..Math.Min(SlopeSamples, count)]) * apart;
            double scatter = apart * Math.Min(Median.SigmaOf(slopes[..count]), Median.SigmaOf(bends[..(count - 1)]));
            double allowance = (1.5 * NoisesMax * noise) + (Scatters * scatter) + (SlopeShare * Math.Abs(expected));

            // A curve that bends down more and more goes on bending; a step that is itself part of the fall tells nothing.
            double last = slopes[0] * apart;
            if (expected - last <= allowance) expected = Math.Min(expected, last + (last - (slopes[1] * apart)));
            double step = forces[knee] - forces[knee - 1];
            if (step >= 0 || expected - step <= allowance) break;
            knee--;
        }

        return knee;
    }
}
