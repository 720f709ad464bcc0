using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace RigDaq.Core.Mixed;

/// <summary>Which components a model has: estimated, held at a known value, or absent (held at 0).</summary>
/// <param name="Free">Estimated, by place: print, stretch, specimen.</param>
/// <param name="Held">The values of the others.</param>
internal sealed record ModelShape(bool[] Free, VarianceComponents Held)
{
    /// <summary>What a table can show: prints beside others at a setting show the variance between prints, a stretch beside a replicate its
    /// own variance. Null where nothing shows how prints scatter and nobody stated it: there is no mixed model then.</summary>
    /// <param name="table">The table.</param>
    /// <param name="print">A known variance between prints.</param>
    /// <param name="stretch">A known variance of stretches.</param>
    public static ModelShape? For(StretchTable table, double? print = null, double? stretch = null)
    {
        if (table.PrintDegrees <= 0) return null;
        if (table.SpecimenDegrees == 0)
        {
            // One specimen each: it cannot be told from its stretch, and with one stretch a print not from its print either.
            bool alone = table.StretchDegrees == 0;
            return new ModelShape([!alone && print is null, false, true], new VarianceComponents(alone ? 0 : print ?? 0, 0, 0));
        }

        return new ModelShape([print is null, stretch is null && table.StretchDegrees > 0, true],
            new VarianceComponents(print ?? 0, stretch ?? 0, 0));
    }
}

/// <summary>A contrast of group means on the model's scale, and how far it can be trusted.</summary>
internal readonly record struct ContrastEstimate(double Estimate, double StandardError, double DegreesOfFreedom);

/// <summary>
/// The mixed model y = group mean + print + print × setting + specimen, fitted by restricted maximum likelihood, with Kenward and Roger's
/// covariance and degrees of freedom (Biometrics 53, 983–997, 1997) as R's pbkrtest computes them: a component at 0 still counts in the
/// information.
/// </summary>
internal sealed class MixedModel
{
    private const int Count = VarianceComponents.Count;
    private readonly StretchTable _table;
    private readonly Matrix<double>[] _adjusted;
    private readonly FamilyAlgebra[] _families;
    private readonly double[,] _weights;

    private MixedModel(StretchTable table, ModelShape shape, RestrictedLikelihood likelihood, VarianceComponents components,
        double[,] weights, bool adjustable)
    {
        (_table, _families, _weights, Components, Shape, Deviance) = (table, likelihood.Families, weights, components, shape,
            likelihood.Deviance);
        _adjusted = [.. _families.Select(f => adjustable ? Adjusted(f, weights) : f.Phi)];
        IsKenwardRoger = adjustable;
    }

    /// <summary>The estimated components.</summary>
    public VarianceComponents Components { get; }

    /// <summary>Which of them were estimated.</summary>
    public ModelShape Shape { get; }

    /// <summary>−2 log of the restricted likelihood, but for a constant.</summary>
    public double Deviance { get; }

    /// <summary>Whether covariance and degrees of freedom are Kenward and Roger's; else the covariance is the plain one, the degrees
    /// Satterthwaite's.</summary>
    public bool IsKenwardRoger { get; }

    /// <summary>Fits; null where the search did not converge or there is no scatter at all.</summary>
    public static MixedModel? Fit(StretchTable table, ModelShape shape)
    {
        var likelihood = new RestrictedLikelihood(table);
        if (RemlSearch.Find(likelihood, shape) is not { } components || !likelihood.Evaluate(components)) return null;
        return Weights(likelihood, shape) is { } weights ? new MixedModel(table, shape, likelihood, components, weights.W, weights.Sound)
            : null;
    }

    /// <summary>The variance of an estimated component, by the expected information.</summary>
    public double VarianceOf(int component) => _weights[component, component];

    /// <summary>A contrast.</summary>
    public ContrastEstimate? Of(Contrast contrast)
    {
        double estimate = 0, plain = 0, adjusted = 0;
        var along = new double[Count];
        foreach (var part in contrast.Weights.GroupBy(w => _table.FamilyOf[w.Group]))
        {
            FamilyAlgebra family = _families[part.Key];
            Vector<double> l = Local(part, family);
            Vector<double> phiL = family.Phi * l;
            estimate += l * DenseVector.OfArray(family.Means);
            plain += l * phiL;
            adjusted += l * (_adjusted[part.Key] * l);
            for (int i = 0; i < Count; i++)
            {
                if (Shape.Free[i]) along[i] += phiL * (family.B[i] * phiL);
            }
        }

        // pbkrtest's Lb_ddf with one row: A1 = A2 = A, and its formula comes down to 2/A.
        double a = 0;
        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < Count; j++) a += _weights[i, j] * along[i] * along[j];
        }

        double degrees = 2 * plain * plain / a;
        return adjusted > 0 && degrees > 0 && double.IsFinite(degrees) ? new ContrastEstimate(estimate, Math.Sqrt(adjusted), degrees)
            : null;
    }

    /// <summary>The covariance of two contrasts.</summary>
    public double Covariance(Contrast x, Contrast y)
    {
        double sum = 0;
        foreach (var part in x.Weights.GroupBy(w => _table.FamilyOf[w.Group]))
        {
            FamilyAlgebra family = _families[part.Key];
            sum += Local(part, family) * (_adjusted[part.Key] * Local(y.Weights.Where(w => _table.FamilyOf[w.Group] == part.Key), family));
        }

        return sum;
    }

    private DenseVector Local(IEnumerable<(int Group, double Weight)> weights, FamilyAlgebra family)
    {
        var l = new DenseVector(family.Means.Length);
        foreach (var (group, weight) in weights) l[_table.PlaceOf[group]] += weight;
        return l;
    }

    /// <summary>The covariance of the components, twice the inverse of the expected information; 0 where one is not estimated.</summary>
    private static (double[,] W, bool Sound)? Weights(RestrictedLikelihood likelihood, ModelShape shape)
    {
        int[] free = [.. Enumerable.Range(0, Count).Where(i => shape.Free[i])];
        foreach (double[,] information in new[] { likelihood.Expected, likelihood.Observed })
        {
            // Scaled by the components' own sizes, so that the test for singularity does not depend on the unit.
            double[] scale = [.. free.Select(i => Math.Sqrt(Math.Abs(information[i, i])))];
            if (scale.Any(s => !(s > 0) || !double.IsFinite(s))) continue;
            Matrix<double> scaled =
                DenseMatrix.Create(free.Length, free.Length, (i, j) => information[free[i], free[j]] / scale[i] / scale[j]);
            var values = scaled.Evd(Symmetricity.Symmetric).EigenValues.Real();
            if (!(values.Minimum() > SingularBelow)) continue;
            Matrix<double> inverse = scaled.Inverse();
            var weights = new double[Count, Count];
            for (int i = 0; i < free.Length; i++)
            {
                for (int j = 0; j < free.Length; j++) weights[free[i], free[j]] = 2 * inverse[i, j] / scale[i] / scale[j];
            }

            return (weights, ReferenceEquals(information, likelihood.Expected));
        }

        return null;
    }

    /// <summary>Φ + 2·Φ·{Σ W_ij·(Q_ij − B_i·Φ·B_j)}·Φ.</summary>
    private static Matrix<double> Adjusted(FamilyAlgebra family, double[,] weights)
    {
        Matrix<double> sum = new DenseMatrix(family.Means.Length, family.Means.Length);
        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < Count; j++)
            {
                if (weights[i, j] != 0) sum += weights[i, j] * (family.Q[i, j] - family.B[i] * family.Phi * family.B[j]);
            }
        }

        sum = (sum + sum.Transpose()) / 2;
        return family.Phi + 2 * family.Phi * sum * family.Phi;
    }

    private const double SingularBelow = 1e-10;
}
