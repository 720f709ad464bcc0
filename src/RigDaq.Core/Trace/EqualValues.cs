namespace RigDaq.Core.Trace;

/// <summary>Tells a converter that stands at its end, or repeats itself, from values that were rounded: on a slow stretch the digits of a
/// display or a file repeat as a matter of course.</summary>
internal static class EqualValues
{
    /// <summary>A value that stays for longer than this is looked at.</summary>
    public const double StuckSeconds = 0.05;

    // So many equal samples in a row at the top say that something was at its end.
    private const int FlatSamples = 4;
    private const int StuckSamples = 16;

    // Noise of so many steps never makes so many equal values by chance.
    private const double NoiseSteps = 2;

    // How the force came to a flat, over so many samples, and by how many steps it would have gone on: a rounded top of a parabola stands
    // for as long as two steps last at the speed it was entered with.
    private const int EntrySamples = 3;
    private const double StepsMin = 4;

    /// <summary>Whether the greatest force stands still as no force does.</summary>
    public static bool StandAtTop(LoadedTrace trace, int last, double raw)
    {
        (double[] forces, int contact, double noise, double step) = (trace.Forces, trace.Contact, trace.Noise, trace.Step);
        (int start, int length) = Longest(contact, last, i => forces[i] == raw);
        if (length < FlatSamples) return false;
        if (noise > NoiseSteps * step) return true;
        int before = Math.Max(contact, start - EntrySamples);
        double speed = start > before ? (forces[start] - forces[before]) / (start - before) : 0;
        return speed * length > StepsMin * step;
    }

    /// <summary>How many samples in a row had one value though the force moved; 0 where that is rounding.</summary>
    public static int Stuck(LoadedTrace trace, int last)
    {
        (double[] forces, int contact, double noise, double step) = (trace.Forces, trace.Contact, trace.Noise, trace.Step);
        (int start, int length) = Longest(contact + 1, last, i => forces[i] == forces[i - 1]);
        if (length + 1 <= StuckSamples) return 0;
        int before = Math.Max(contact, start - 2), after = Math.Min(last, start + length);
        bool moved = Math.Abs(forces[after] - forces[before]) > StepsMin * step;
        return noise > NoiseSteps * step || moved ? length + 1 : 0;
    }

    private static (int Start, int Length) Longest(int from, int to, Func<int, bool> holds)
    {
        (int Start, int Length) longest = (from, 0);
        int run = 0;
        for (int i = from; i <= to; i++)
        {
            run = holds(i) ? run + 1 : 0;
            if (run > longest.Length) longest = (i - run + 1, run);
        }

        return longest;
    }
}
