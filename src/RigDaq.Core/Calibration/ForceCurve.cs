namespace RigDaq.Core.Calibration;

/// <summary>
/// Turns a deflection in counts (reading less zero) into newtons: <c>F = a1·d + a2·d² + a3·d³</c>, without a constant,
/// because the zero is taken separately.
/// </summary>
/// <param name="Coefficients">From degree 1 up, in N per count to the power; one to three.</param>
public sealed record ForceCurve(IReadOnlyList<double> Coefficients)
{
    /// <summary>The force at a deflection.</summary>
    /// <param name="deflectionCounts">Counts less zero.</param>
    public double Newtons(double deflectionCounts)
    {
        double force = 0;
        for (int i = Coefficients.Count - 1; i >= 0; i--) force = (force + Coefficients[i]) * deflectionCounts;
        return force;
    }

    /// <summary>The slope dF/dd at a deflection, in N per count.</summary>
    public double NewtonsPerCount(double deflectionCounts)
    {
        double slope = 0;
        for (int i = Coefficients.Count - 1; i >= 0; i--) slope = (slope * deflectionCounts) + ((i + 1) * Coefficients[i]);
        return slope;
    }

    /// <summary>The deflection in counts at which the curve gives a force; null where it never does.</summary>
    /// <param name="forceNewtons">The force.</param>
    public double? DeflectionCounts(double forceNewtons) => Fitting.Polynomial.Solve(Coefficients, constant: false, forceNewtons);
}
