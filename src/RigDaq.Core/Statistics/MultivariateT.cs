using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace RigDaq.Core.Statistics;

/// <summary>
/// Probabilities of several t statistics that share one estimate of scatter (Dunnett 1955; Hsu 1984). Where the correlations are those of
/// one common factor they are integrated numerically; else by Genz and Bretz' separation of variables over a fixed set of quasi-random
/// points: the same answer every time, good to 1e-4.
/// </summary>
public static class MultivariateT
{
    private const int Points = 4096;
    private const int Shifts = 8;
    private const int FactorSteps = 128;
    private const int ScaleSteps = 96;

    /// <summary>P(any T_i &gt; t), one-sided.</summary>
    /// <param name="t">Any real number.</param>
    /// <param name="correlations">Symmetric with ones on the diagonal, positive semidefinite.</param>
    /// <param name="degreesOfFreedom">1 or more.</param>
    public static double UpperTailOfGreatest(double t, double[,] correlations, double degreesOfFreedom) => correlations.GetLength(0) == 1
        ? StudentT.UpperTail(t, degreesOfFreedom) : Tail(double.NegativeInfinity, t, correlations, degreesOfFreedom);

    /// <summary>P(any |T_i| &gt; t), two-sided.</summary>
    /// <param name="t">0 or more.</param>
    /// <param name="correlations">Symmetric with ones on the diagonal, positive semidefinite.</param>
    /// <param name="degreesOfFreedom">1 or more.</param>
    public static double TwoSidedTailOfGreatest(double t, double[,] correlations, double degreesOfFreedom) =>
        correlations.GetLength(0) == 1 ? StudentT.TwoSidedTail(t, degreesOfFreedom) : Tail(-t, t, correlations, degreesOfFreedom);

    private static double Tail(double low, double high, double[,] correlations, double degrees)
    {
        double inside = OneFactor(correlations) is { } loadings ? ByFactor(low, high, loadings, degrees)
            : ByPoints(low, high, correlations, degrees);
        return Math.Clamp(1 - inside, 0, 1);
    }

    /// <summary>λ with ρ_ij = λ_i·λ_j, or null where there is none.</summary>
    private static double[]? OneFactor(double[,] r)
    {
        const double Same = 1e-9, Below = 1 - 1e-7;
        int n = r.GetLength(0);
        var loadings = new double[n];
        if (n == 2)
        {
            loadings[0] = Math.Sqrt(Math.Abs(r[0, 1]));
            loadings[1] = r[0, 1] < 0 ? -loadings[0] : loadings[0];
        }
        else
        {
            for (int i = 0; i < n; i++)
            {
                int j = i == 0 ? 1 : 0, k = Enumerable.Range(0, n).First(x => x != i && x != j);
                double square = Math.Abs(r[j, k]) < Same ? 0 : r[i, j] * r[i, k] / r[j, k];
                if (square < -Same) return null;
                loadings[i] = Math.Sqrt(Math.Max(0, square)) * (i > 0 && r[0, i] < 0 ? -1 : 1);
            }
        }

        for (int i = 0; i < n; i++)
        {
            if (Math.Abs(loadings[i]) > Below) return null;
            for (int j = 0; j < i; j++)
            {
                if (Math.Abs(r[i, j] - loadings[i] * loadings[j]) > Same) return null;
            }
        }

        return loadings;
    }

    /// <summary>The mean over the common factor and over the scale: both integrands are smooth and vanish at the ends, where equal steps
    /// converge fast.</summary>
    private static double ByFactor(double low, double high, double[] loadings, double degrees)
    {
        const double Reach = 8.5;
        double step = 2 * Reach / FactorSteps, sum = 0;
        double[] rest = [.. loadings.Select(l => Math.Sqrt(1 - l * l))];
        (double S, double Weight)[] scales = Scales(degrees);
        foreach (var (s, weight) in scales)
        {
            double over = 0;
            for (int k = 0; k <= FactorSteps; k++)
            {
                double z = -Reach + k * step, product = Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI) * step;
                for (int i = 0; i < loadings.Length; i++)
                {
                    double shift = loadings[i] * z;
                    product *= Normal.CDF(0, 1, (high * s - shift) / rest[i])
                        - (double.IsNegativeInfinity(low) ? 0 : Normal.CDF(0, 1, (low * s - shift) / rest[i]));
                }

                over += product;
            }

            sum += weight * over;
        }

        return sum;
    }

    /// <summary>Nodes and weights for a mean over S = √(χ²/ν), in equal steps of log S.</summary>
    private static (double S, double Weight)[] Scales(double degrees)
    {
        double spread = 9 / Math.Sqrt(2 * degrees), low = -Math.Max(spread, 38 / degrees + spread / 3), high = Math.Min(spread + 0.3, 3.3);
        double constant = Math.Log(2) + degrees / 2 * Math.Log(degrees / 2) - SpecialFunctions.GammaLn(degrees / 2),
            step = (high - low) / ScaleSteps, total = 0;
        var nodes = new (double S, double Weight)[ScaleSteps + 1];
        for (int k = 0; k <= ScaleSteps; k++)
        {
            double log = low + k * step, s = Math.Exp(log), weight = Math.Exp(constant + degrees * log - degrees * s * s / 2) * step;
            nodes[k] = (s, weight);
            total += weight;
        }

        return [.. nodes.Select(node => (node.S, node.Weight / total))];
    }

    private static double ByPoints(double low, double high, double[,] r, double degrees)
    {
        int n = r.GetLength(0);
        double[,] root = Root(r);
        double[] scale = ScaleQuantiles(degrees), step = [.. Primes.Take(n).Select(p => Math.Sqrt(p) % 1)], y = new double[n];
        double sum = 0;
        for (int shift = 0; shift < Shifts; shift++)
        {
            for (int point = 0; point < Points; point++)
            {
                double product = 1;
                for (int i = 0; i < n && product > 0; i++)
                {
                    double along = 0;
                    for (int j = 0; j < i; j++) along += root[i, j] * y[j];
                    double own = root[i, i], from, to;
                    if (own > 0)
                    {
                        from = double.IsNegativeInfinity(low) ? 0 : Normal.CDF(0, 1, (low * scale[point] - along) / own);
                        to = Normal.CDF(0, 1, (high * scale[point] - along) / own);
                    }
                    else
                    {
                        // This statistic is a sum of those before it.
                        (from, to) = (0, along <= high * scale[point] && along >= low * scale[point] ? 1 : 0);
                    }

                    product *= to - from;
                    if (i + 1 == n) break;

                    // Points of a lattice by square roots of primes (Richtmyer), folded so that the ends meet.
                    double w = (point * step[i] + (shift + 0.5) * step[n - 1 - i] * 7 + shift / (double)Shifts) % 1;
                    w = Math.Abs(2 * w - 1);
                    y[i] = own > 0 ? Normal.InvCDF(0, 1, Math.Clamp(from + w * (to - from), 1e-300, 1 - 1e-16)) : 0;
                }

                sum += product;
            }
        }

        return sum / Shifts / Points;
    }

    /// <summary>S at the middles of equal shares of its distribution.</summary>
    private static double[] ScaleQuantiles(double degrees)
    {
        var quantiles = new double[Points];
        double shape = degrees / 2, x = Math.Max(1e-3, 1 - 3 / Math.Sqrt(2 * degrees));
        for (int k = 0; k < Points; k++)
        {
            double target = (k + 0.5) / Points;
            double low = k == 0 ? 0 : quantiles[k - 1], high = double.PositiveInfinity;
            for (int i = 0; i < 60; i++)
            {
                double at = SpecialFunctions.GammaLowerRegularized(shape, shape * x * x), error = at - target;
                if (error > 0) high = Math.Min(high, x);
                else low = Math.Max(low, x);
                double density = Math.Exp(Math.Log(2) + shape * Math.Log(shape) - SpecialFunctions.GammaLn(shape) + (degrees - 1)
                    * Math.Log(x) - shape * x * x);
                double next = x - error / density;
                if (!(next > low && next < high)) next = double.IsInfinity(high) ? x * 1.5 : (low + high) / 2;
                bool done = Math.Abs(next - x) < 1e-10;
                x = next;
                if (done) break;
            }

            quantiles[k] = x;
        }

        return quantiles;
    }

    /// <summary>Cholesky's root of a matrix that may be singular.</summary>
    private static double[,] Root(double[,] r)
    {
        int n = r.GetLength(0);
        var root = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = r[i, j];
                for (int k = 0; k < j; k++) sum -= root[i, k] * root[j, k];
                root[i, j] = i == j ? (sum > 1e-10 ? Math.Sqrt(sum) : 0) : root[j, j] > 0 ? sum / root[j, j] : 0;
            }
        }

        return root;
    }

    private static IEnumerable<int> Primes =>
        Enumerable.Range(2, 2000).Where(n => Enumerable.Range(2, (int)Math.Sqrt(n) - 1).All(d => n % d != 0));
}
