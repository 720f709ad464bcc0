using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>
/// A straight line whose slope is stated with an honest error: residuals of a trace hang together (a screw's pitch, grips that bed
/// in, ripple), so that the usual standard error is too small. The line through the means of <see cref="Blocks"/> consecutive
/// stretches scatters by what is really there (batch means, as for any correlated series); the greater of the two errors is taken.
/// </summary>
internal readonly record struct BlockedLine(double Intercept, double Slope, double SlopeStandardError, double ResidualDeviation)
{
    /// <summary>How many stretches.</summary>
    public const int Blocks = 10;

    /// <summary>Fits it.</summary>
    /// <param name="x">At least three, not all equal.</param>
    /// <param name="y">One an x.</param>
    public static BlockedLine Of(double[] x, double[] y)
    {
        (double intercept, double slope, double residual) = Line(x, y);
        double usual = residual / Math.Sqrt(Spread(x));
        if (x.Length < 2 * Blocks) return new BlockedLine(intercept, slope, usual, residual);
        var means = new (double X, double Y)[Blocks];
        for (int b = 0; b < Blocks; b++)
        {
            int from = b * x.Length / Blocks, to = (b + 1) * x.Length / Blocks;
            means[b] = (NoiseEstimate.Of(x.AsSpan(from..to)).Mean, NoiseEstimate.Of(y.AsSpan(from..to)).Mean);
        }

        double[] blockX = [.. means.Select(mean => mean.X)];
        (_, _, double ofMeans) = Line(blockX, [.. means.Select(mean => mean.Y)]);
        double blocked = ofMeans / Math.Sqrt(Spread(blockX));
        return new BlockedLine(intercept, slope, double.IsFinite(blocked) ? Math.Max(usual, blocked) : usual, residual);
    }

    private static (double Intercept, double Slope, double Residual) Line(double[] x, double[] y)
    {
        (double intercept, double slope) = MathNet.Numerics.Fit.Line(x, y);
        double squares = 0;
        for (int i = 0; i < x.Length; i++) squares += Math.Pow(y[i] - intercept - (slope * x[i]), 2);
        return (intercept, slope, Math.Sqrt(squares / Math.Max(1, x.Length - 2)));
    }

    private static double Spread(double[] x)
    {
        double mean = NoiseEstimate.Of(x).Mean;
        return x.Sum(value => (value - mean) * (value - mean));
    }
}
