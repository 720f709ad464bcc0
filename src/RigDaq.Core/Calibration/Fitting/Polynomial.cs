namespace RigDaq.Core.Calibration.Fitting;

/// <summary>Polynomials whose first coefficient is the constant, or, without one, belongs to degree 1.</summary>
internal static class Polynomial
{
    public static double At(IReadOnlyList<double> coefficients, bool constant, double x)
    {
        double value = 0;
        if (coefficients is double[] plain)
        {
            // The usual case, for every sample there is: no call for each coefficient.
            for (int i = plain.Length - 1; i >= 0; i--) value = (value * x) + plain[i];
            return constant ? value : value * x;
        }

        for (int i = coefficients.Count - 1; i >= 0; i--) value = (value * x) + coefficients[i];
        return constant ? value : value * x;
    }

    public static double SlopeAt(IReadOnlyList<double> coefficients, bool constant, double x)
    {
        double slope = 0;
        int first = constant ? 0 : 1;
        for (int i = coefficients.Count - 1; i >= 0 && i + first > 0; i--) slope = (slope * x) + ((i + first) * coefficients[i]);
        return slope;
    }

    /// <summary>The powers of x that the coefficients are multiplied by.</summary>
    public static double[] Powers(int terms, bool constant, double x)
    {
        var powers = new double[terms];
        double power = constant ? 1 : x;
        for (int i = 0; i < terms; i++, power *= x) powers[i] = power;
        return powers;
    }

    /// <summary>The polynomial up to a place, and from there on its tangent: what a curve says beyond what it was fitted to.</summary>
    public static double StraightBeyond(IReadOnlyList<double> coefficients, bool constant, double x, double until) =>
        Math.Abs(x) <= Math.Abs(until) || coefficients.Count + (constant ? -1 : 0) < 2
            ? At(coefficients, constant, x)
            : At(coefficients, constant, until) + (SlopeAt(coefficients, constant, until) * (x - until));

    /// <summary>Where the polynomial reaches a value, by Newton's method from the straight line; null where it never does.</summary>
    public static double? Solve(IReadOnlyList<double> coefficients, bool constant, double value)
    {
        const int StepsMax = 50;
        double offset = constant ? coefficients[0] : 0;
        double x = (value - offset) / coefficients[constant ? 1 : 0];
        for (int step = 0; step < StepsMax; step++)
        {
            double change = (At(coefficients, constant, x) - value) / SlopeAt(coefficients, constant, x);
            if (!double.IsFinite(change)) return null;
            x -= change;
            if (Math.Abs(change) <= 1e-12 * Math.Max(1, Math.Abs(x))) return x;
        }

        return null;
    }
}
