using RigDaq.Core.Statistics;

namespace RigDaq.Core.Mixed;

/// <summary>−2 log of the restricted likelihood with its derivatives, gathered over the families.</summary>
internal sealed class RestrictedLikelihood
{
    private const int Count = VarianceComponents.Count;
    private readonly int _degreesWithin;
    private readonly double _squaresWithin;

    public RestrictedLikelihood(StretchTable table)
    {
        Families = [.. table.Families.Select(f => new FamilyAlgebra(f))];
        _degreesWithin = table.SpecimenDegrees;
        _squaresWithin = table.Stretches.Sum(s => s.SumOfSquares);
        double between = 0;
        foreach (var group in table.Stretches.GroupBy(s => s.Group)) between += Moments.SumOfSquares([.. group.Select(s => s.Mean)]);
        int degrees = table.Specimens - table.Groups.Count;
        Spread = degrees > 0 ? (_squaresWithin + between) / degrees : 0;
    }

    /// <summary>The size of the scatter, to start from: variance about the groups.</summary>
    public double Spread { get; }

    public FamilyAlgebra[] Families { get; }

    public double Deviance { get; private set; }

    /// <summary>Of the deviance, by component.</summary>
    public double[] Gradient { get; } = new double[Count];

    /// <summary>tr(P·G_i·P·G_j): twice the expected information.</summary>
    public double[,] Expected { get; } = new double[Count, Count];

    /// <summary>The deviance's second derivatives: twice the observed information.</summary>
    public double[,] Observed { get; } = new double[Count, Count];

    /// <summary>Computes everything at these components; false where it cannot be had there.</summary>
    public bool Evaluate(VarianceComponents v)
    {
        Deviance = _degreesWithin * Math.Log(v.Specimen) + _squaresWithin / v.Specimen;
        for (int i = 0; i < Count; i++)
        {
            Gradient[i] = 0;
            for (int j = 0; j < Count; j++) Expected[i, j] = Observed[i, j] = 0;
        }

        // What the specimens say within their stretches.
        double s = v.Specimen, share = _squaresWithin / s;
        Gradient[Count - 1] = (_degreesWithin - share) / s;
        Expected[Count - 1, Count - 1] = _degreesWithin / s / s;
        Observed[Count - 1, Count - 1] = (2 * share - _degreesWithin) / s / s;
        foreach (FamilyAlgebra family in Families)
        {
            if (!family.Evaluate(v)) return false;
            Deviance += family.Deviance;
            for (int i = 0; i < Count; i++)
            {
                Gradient[i] += family.Gradient[i];
                for (int j = 0; j < Count; j++)
                {
                    Expected[i, j] += family.Traces[i, j];
                    Observed[i, j] += 2 * family.Quadratics[i, j] - family.Traces[i, j];
                }
            }
        }

        return double.IsFinite(Deviance);
    }
}
