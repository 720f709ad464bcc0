using System.Runtime.InteropServices;

namespace RigDaq.Core.Signal;

/// <summary>The noise of a signal that also moves.</summary>
public static class NoiseEstimate
{
    /// <summary>
    /// The standard deviation of white noise from second differences, which a ramp does not touch and a few jumps or spikes do
    /// not move: var(x₋₁ − 2x₀ + x₊₁) = 6σ², taken by the median absolute deviation. Equal values in a row are one conversion
    /// that was read several times.
    /// </summary>
    /// <param name="values">In the order they were sampled.</param>
    /// <returns>0 for fewer than three values.</returns>
    public static double FromSecondDifferences(ReadOnlySpan<double> values)
    {
        ReadOnlySpan<double> distinct = Distinct(values);
        if (distinct.Length < 3) return 0;
        if (Joints(distinct) is { } joints) distinct = CollectionsMarshal.AsSpan(joints);
        var differences = new double[distinct.Length - 2];
        for (int i = 0; i < differences.Length; i++) differences[i] = Math.Abs(distinct[i] - (2 * distinct[i + 1]) + distinct[i + 2]);
        return Median.DeviationToSigma * Median.Of(differences) / Math.Sqrt(6);
    }

    /// <summary>Equal values in a row once; the values themselves where none are.</summary>
    private static ReadOnlySpan<double> Distinct(ReadOnlySpan<double> values)
    {
        int first = 1;
        while (first < values.Length && values[first] != values[first - 1]) first++;
        if (first >= values.Length) return values;
        var distinct = new List<double>(values.Length);
        foreach (double value in values)
        {
            if (distinct.Count == 0 || value != distinct[^1]) distinct.Add(value);
        }

        return CollectionsMarshal.AsSpan(distinct);
    }

    /// <summary>
    /// Where a logger filled in by straight lines between what was measured: the joints alone. Null where most values lie on no
    /// such line, or so few joints stand between them that it is the signal that is straight.
    /// </summary>
    private static List<double>? Joints(ReadOnlySpan<double> values)
    {
        const int JointsMin = 10, FilledMax = 12;
        int count = 0;
        for (int i = 1; i < values.Length - 1; i++)
        {
            if (IsJoint(values, i)) count++;
        }

        if (2 * count > values.Length || count < JointsMin || count * FilledMax < values.Length) return null;
        var joints = new List<double>(count);
        for (int i = 1; i < values.Length - 1; i++)
        {
            if (IsJoint(values, i)) joints.Add(values[i]);
        }

        return joints;
    }

    private static bool IsJoint(ReadOnlySpan<double> values, int i)
    {
        const double StraightMax = 1e-9;
        double bend = Math.Abs(values[i - 1] - (2 * values[i]) + values[i + 1]);
        return bend > StraightMax * (Math.Abs(values[i - 1]) + Math.Abs(values[i + 1]));
    }

    /// <summary>
    /// The noise while the drives run, which can be more than what a still stretch showed: second differences tell it where
    /// they go to and fro as white noise makes them (in 73 of 100 steps, acos(−2/3)/π) and not slowly as a bend does.
    /// </summary>
    /// <param name="values">Under load, in the order they were sampled.</param>
    /// <param name="still">What the still stretch showed.</param>
    /// <returns>At least <paramref name="still"/>.</returns>
    public static double UnderLoad(ReadOnlySpan<double> values, double still)
    {
        const int SamplesMin = 60;
        const double TurnsMin = 0.65;
        const double Rounding = 1e-9;

        // Less than this is the scatter of the two estimates.
        const double TimesMin = 1.3;
        const double BegunShare = 0.25, GrowsTimes = 2;
        const int BegunSamplesMin = 20;
        if (values.Length < SamplesMin) return still;
        int turns = 0;
        double before = 0;
        for (int i = 1; i < values.Length - 1; i++)
        {
            double difference = values[i - 1] - (2 * values[i]) + values[i + 1];

            // Coarse steps make differences that would be 0 but for rounding: they turn nothing.
            if (Math.Abs(difference) <= Rounding * Math.Abs(values[i])) continue;
            if (difference * before < 0) turns++;
            before = difference;
        }

        if (turns < TurnsMin * (values.Length - 3)) return still;
        double loaded = FromSecondDifferences(values);
        if (loaded <= TimesMin * still) return still;

        // What grows with the load is the specimen that gives way thread by thread: forces that were there, not noise. Drives are
        // heard from the start.
        int begun = 0;
        double high = BegunShare * Greatest(values);
        while (begun < values.Length && values[begun] < high) begun++;
        if (begun < BegunSamplesMin) return loaded;
        double begin = Math.Max(still, FromSecondDifferences(values[..begun]));
        return FromSecondDifferences(values[begun..]) > GrowsTimes * begin ? begin : loaded;
    }

    private static double Greatest(ReadOnlySpan<double> values)
    {
        double greatest = double.NegativeInfinity;
        foreach (double value in values) greatest = Math.Max(greatest, value);
        return greatest;
    }

    /// <summary>The mean and the standard deviation (n − 1) of values, in two passes.</summary>
    public static (double Mean, double Deviation) Of(ReadOnlySpan<double> values)
    {
        if (values.Length == 0) return (0, 0);
        double sum = 0;
        foreach (double value in values) sum += value;
        double mean = sum / values.Length;
        double squares = 0;
        foreach (double value in values) squares += (value - mean) * (value - mean);
        return (mean, values.Length > 1 ? Math.Sqrt(squares / (values.Length - 1)) : 0);
    }
}
