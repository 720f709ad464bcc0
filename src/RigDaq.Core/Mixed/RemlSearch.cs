using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace RigDaq.Core.Mixed;

/// <summary>Newton's method on the restricted likelihood with components not below 0; where the second derivatives are not positive
/// definite, the expected information stands in for them (Fisher's scoring). A search that does not converge gives nothing.</summary>
internal static class RemlSearch
{
    /// <summary>The most steps of one search.</summary>
    private const int StepsMax = 200;

    private const int HalvingsMax = 40;

    /// <summary>Steps below this share of all variance end the search; near the optimum each step doubles the correct digits.</summary>
    private const double StepSmall = 1e-11;

    /// <summary>What rounding alone may raise the deviance by, as a share of it.</summary>
    private const double Rounding = 1e-13;

    /// <summary>A search may end where its last step promised to lower the deviance by no more than this.</summary>
    private const double GainSmall = 1e-9;

    // Shares of the spread that print, stretch and specimen start with. Where a search ends at a bound, another start may end higher.
    private static readonly double[][] Starts = [[0.3, 0.15, 0.8], [1, 1, 1], [0.01, 0.01, 1], [0.01, 1, 0.5], [1, 0.01, 0.5]];

    /// <summary>The components with the highest restricted likelihood; null where the search did not converge.</summary>
    public static VarianceComponents? Find(RestrictedLikelihood likelihood, ModelShape shape)
    {
        if (!(likelihood.Spread > 0)) return null;
        (VarianceComponents V, double Deviance)? best = null;
        foreach (double[] start in Starts)
        {
            double[] v = [.. start.Select((share, i) => shape.Free[i] ? share * likelihood.Spread : shape.Held[i])];
            if (Search(likelihood, shape, v) is not { } found) continue;
            if (best is null || found.Deviance < best.Value.Deviance) best = found;
            bool atBound = (shape.Free[0] && found.V.Print == 0) || (shape.Free[1] && found.V.Stretch == 0);
            if (!atBound) break;
        }

        return best?.V;
    }

    private static (VarianceComponents V, double Deviance)? Search(RestrictedLikelihood likelihood, ModelShape shape, double[] v)
    {
        if (!likelihood.Evaluate(VarianceComponents.Of(v))) return null;
        for (int step = 0; step < StepsMax; step++)
        {
            double before = likelihood.Deviance, total = v.Sum();
            if (Direction(likelihood, shape, v) is not { } direction) return (VarianceComponents.Of(v), before);

            // What the step promises, by the slope at its start.
            double gain = -direction.Select((d, i) => d * likelihood.Gradient[i]).Sum();

            // A step that would take a component below 0 stops there; the specimens' own may fall to a tenth at most.
            double[] next = [];
            double factor = 1;
            bool better = false;
            for (int halving = 0; halving < HalvingsMax && !better; halving++, factor /= 2)
            {
                next = [.. v.Select((value, i) => i == 2 ? Math.Max(value / 10, value + factor * direction[i])
                    : Math.Max(0, value + factor * direction[i]))];
                better =
                    likelihood.Evaluate(VarianceComponents.Of(next)) && likelihood.Deviance <= before + Rounding * (1 + Math.Abs(before));
            }

            double moved = v.Zip(next, (a, b) => Math.Abs(a - b)).Max();
            if (better) v = next;
            if (moved <= StepSmall * total || !better)
            {
                // A step that finds nothing better is the end only where nothing was to be gained.
                return likelihood.Evaluate(VarianceComponents.Of(v)) && Math.Abs(gain) < GainSmall
                    ? (VarianceComponents.Of(v), likelihood.Deviance) : null;
            }
        }

        return null;
    }

    /// <summary>The step; null where no component can move.</summary>
    private static double[]? Direction(RestrictedLikelihood likelihood, ModelShape shape, double[] v)
    {
        int[] moving = [.. Enumerable.Range(0, v.Length).Where(i => shape.Free[i] && !(v[i] == 0 && likelihood.Gradient[i] >= 0))];
        while (moving.Length > 0)
        {
            double[] step = Solve(likelihood.Observed, moving, likelihood.Gradient) ?? Solve(likelihood.Expected, moving,
                likelihood.Gradient) ?? Solve(null, moving, likelihood.Gradient, likelihood.Expected)!;

            // A component at its bound that the joint step would push further out stays there.
            int[] inward = [.. moving.Where((i, k) => !(v[i] == 0 && step[k] < 0))];
            if (inward.Length == moving.Length)
            {
                double[] direction = new double[v.Length];
                for (int k = 0; k < moving.Length; k++) direction[moving[k]] = step[k];
                return direction;
            }

            moving = inward;
        }

        return null;
    }

    private static double[]? Solve(double[,]? matrix, int[] moving, double[] gradient, double[,]? diagonal = null)
    {
        if (matrix is null) return [.. moving.Select(i => -gradient[i] / Math.Max(Math.Abs(diagonal![i, i]), double.Epsilon))];
        double[] scale = [.. moving.Select(i => Math.Sqrt(Math.Abs(matrix[i, i])))];
        if (scale.Any(s => !(s > 0) || !double.IsFinite(s))) return null;
        Matrix<double> scaled =
            DenseMatrix.Create(moving.Length, moving.Length, (i, j) => matrix[moving[i], moving[j]] / scale[i] / scale[j]);
        if (!(scaled.Evd(Symmetricity.Symmetric).EigenValues.Real().Minimum() > 1e-9)) return null;
        Vector<double> step = scaled.Solve(DenseVector.OfArray([.. moving.Select((i, k) => -gradient[i] / scale[k])]));
        return [.. step.Select((value, k) => value / scale[k])];
    }
}
