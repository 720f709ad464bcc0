namespace RigDaq.Core.Calibration.Fitting;

/// <summary>
/// Turns a deflection in counts (reading less zero) into newtons: <c>F = a1·d + a2·d² + a3·d³</c>, without a constant,
/// because the zero is taken separately. Beyond the greatest deflection that it was fitted to a curve goes on as its tangent.
/// </summary>
/// <param name="Coefficients">From degree 1 up, in N per count to the power; one to three.</param>
public sealed record ForceCurve(IReadOnlyList<double> Coefficients)
{
    /// <summary>From degree 1 up, in N per count to the power; one to three. Kept as a plain array: every sample passes here.</summary>
    public IReadOnlyList<double> Coefficients { get; init; } = Coefficients as double[] ?? Coefficients.ToArray();

    /// <summary>The deflection of the greatest reference force, from which on the curve is straight; null where that is not known (then it
    /// never is).</summary>
    public double? GreatestDeflectionCounts { get; init; }

    /// <summary>The force at a deflection.</summary>
    /// <param name="deflectionCounts">Counts less zero.</param>
    public double Newtons(double deflectionCounts) => IsBeyond(deflectionCounts, out double until)
        ? Inside(until) + (SlopeInside(until) * (deflectionCounts - until))
        : Inside(deflectionCounts);

    /// <summary>The slope dF/dd at a deflection, in N per count.</summary>
    /// <param name="deflectionCounts">Counts less zero.</param>
    public double NewtonsPerCount(double deflectionCounts)
        => SlopeInside(IsBeyond(deflectionCounts, out double until) ? until : deflectionCounts);

    /// <summary>The deflection in counts at which the curve gives a force; null where it never does.</summary>
    /// <param name="forceNewtons">The force.</param>
    public double? DeflectionCounts(double forceNewtons)
    {
        double? inside = Fitting.Polynomial.Solve(Coefficients, constant: false, forceNewtons);
        double? greatest = GreatestDeflectionCounts;
        if (Coefficients.Count < 2 || greatest is not { } until || Math.Abs(forceNewtons) <= Math.Abs(Inside(until))) return inside;
        if (Math.Sign(forceNewtons) != Math.Sign(Inside(until))) until = -until;
        return until + ((forceNewtons - Inside(until)) / SlopeInside(until));
    }

    // To either side as far: a pushing force is read by the curve of the pulling one.
    private bool IsBeyond(double deflection, out double until)
    {
        until = GreatestDeflectionCounts is { } greatest ? Math.CopySign(greatest, deflection) : 0;
        return Coefficients.Count > 1 && GreatestDeflectionCounts is not null && Math.Abs(deflection) > Math.Abs(until);
    }

    private double Inside(double deflection) => Fitting.Polynomial.At(Coefficients, constant: false, deflection);

    private double SlopeInside(double deflection) => Fitting.Polynomial.SlopeAt(Coefficients, constant: false, deflection);
}
