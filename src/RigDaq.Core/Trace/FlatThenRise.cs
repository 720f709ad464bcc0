namespace RigDaq.Core.Trace;

/// <summary>Flat ground and then a rise that may bend, m + a·s + b·s² with s the time since its foot, by least squares: how well a trace's
/// beginning is told by it, with the foot wherever that is best.</summary>
internal static class FlatThenRise
{
    // More feet than this find nothing better; each is one fit.
    private const int FeetMax = 64;

    /// <summary>The least sum of squared residuals over all feet.</summary>
    /// <param name="times">In seconds, never falling.</param>
    /// <param name="values">One a time.</param>
    /// <param name="count">How many from the first on; five at the least.</param>
    public static double Squares(double[] times, double[] values, int count)
    {
        double least = double.PositiveInfinity;
        int step = Math.Max(1, count / FeetMax);
        for (int foot = 0; foot < count - 3; foot += step) least = Math.Min(least, Fit(times, values, count, foot));
        return least;
    }

    // Gram and Schmidt on 1, s and s²: three columns need no solver.
    private static double Fit(double[] times, double[] values, int count, int foot)
    {
        double span = Math.Max(times[count - 1] - times[foot], double.Epsilon);
        double[][] columns = [new double[count], new double[count], new double[count]];
        for (int i = 0; i < count; i++)
        {
            double s = Math.Max(0, times[i] - times[foot]) / span;
            (columns[0][i], columns[1][i], columns[2][i]) = (1, s, s * s);
        }

        double[] rest = [.. values.AsSpan(0, count)];
        for (int k = 0; k < columns.Length; k++)
        {
            double norm = Dot(columns[k], columns[k]);
            if (norm < 1e-12) continue;
            Take(rest, columns[k], Dot(rest, columns[k]) / norm);
            for (int j = k + 1; j < columns.Length; j++) Take(columns[j], columns[k], Dot(columns[j], columns[k]) / norm);
        }

        return Dot(rest, rest);
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }

    private static void Take(double[] from, double[] column, double factor)
    {
        for (int i = 0; i < from.Length; i++) from[i] -= factor * column[i];
    }
}
