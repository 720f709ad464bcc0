using MathNet.Numerics.LinearAlgebra;
using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.Fitting;

/// <summary>
/// A polynomial through points by ordinary least squares, with what that says about its coefficients. Solved by QR (Householder) on
/// abscissae scaled by a power of two: counts reach 8e6 and their squares 6e13, where normal equations lose half of the digits.
/// </summary>
public sealed record PolynomialFit
{
    /// <summary>The greatest degree that is fitted.</summary>
    public const int DegreeMax = 9;

    /// <summary>Whether the first coefficient is the constant; otherwise it belongs to degree 1.</summary>
    public required bool Constant { get; init; }

    /// <summary>The coefficients, rising in degree.</summary>
    public required IReadOnlyList<double> Coefficients { get; init; }

    /// <summary>The covariance of the coefficients from the scatter of the points alone, as if they were independent.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> Covariance { get; init; }

    /// <summary>The root of its diagonal.</summary>
    public required IReadOnlyList<double> StandardErrors { get; init; }

    /// <summary>The residual standard deviation, with <see cref="DegreesOfFreedom"/> in the denominator.</summary>
    public required double ResidualStandardDeviation { get; init; }

    /// <summary>Points less coefficients.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>The share of the sum of squares that is explained: about the mean with a constant, about zero without one.</summary>
    public required double RSquared { get; init; }

    /// <summary>Point less curve, in the order of the points.</summary>
    public required IReadOnlyList<double> Residuals { get; init; }

    /// <summary>What turns ordinates into coefficients (P in β = P·y): the way to carry any other covariance through the fit.</summary>
    internal Matrix<double> Influence { get; init; } = null!;

    /// <summary>The design matrix.</summary>
    internal Matrix<double> Design { get; init; } = null!;

    /// <summary>Fits.</summary>
    /// <param name="x">Abscissae, finite.</param>
    /// <param name="y">Ordinates, finite, as many.</param>
    /// <param name="degree">1 to 9.</param>
    /// <param name="constant">Whether there is a constant term.</param>
    /// <exception cref="CalibrationRefusedException">The points cannot carry the degree.</exception>
    public static PolynomialFit Of(IReadOnlyList<double> x, IReadOnlyList<double> y, int degree, bool constant)
    {
        if (degree is < 1 or > DegreeMax) throw new ArgumentOutOfRangeException(nameof(degree), "The degree lies between 1 and 9.");
        if (x.Count != y.Count) throw new ArgumentException("As many ordinates as abscissae.", nameof(y));
        int terms = constant ? degree + 1 : degree;
        int n = x.Count;
        int distinct = x.Distinct().Count();
        if (distinct < terms || n <= terms) throw new CalibrationRefusedException(CoreText.FittingTooFewPoints(n, distinct, terms));
        double greatest = x.Max(Math.Abs);
        double scale = Math.Pow(2, Math.Ceiling(Math.Log2(greatest)));
        int first = constant ? 0 : 1;
        var scaled = Matrix<double>.Build.Dense(n, terms, (row, column) => Math.Pow(x[row] / scale, first + column));
        var qr = scaled.QR();
        var invertedR = Vector<double>.Build.Dense(terms, i => qr.R[i, i]);
        double largest = invertedR.AbsoluteMaximum();
        if (invertedR.Any(value => Math.Abs(value) < 1e-12 * largest))
            throw new CalibrationRefusedException(CoreText.FittingPointsTooClose(degree));
        var pseudo = qr.R.Solve(qr.Q.Transpose());
        var ordinates = Vector<double>.Build.DenseOfEnumerable(y);
        var solution = pseudo * ordinates;

        // One step of refinement takes up what the first solution lost to rounding.
        solution += pseudo * (ordinates - (scaled * solution));
        var residuals = ordinates - (scaled * solution);
        int freedom = n - terms;
        double squares = residuals.DotProduct(residuals);
        double variance = squares / freedom;
        double mean = constant ? ordinates.Average() : 0;
        double total = ordinates.Sum(value => (value - mean) * (value - mean));
        var unscale = Vector<double>.Build.Dense(terms, column => Math.Pow(scale, -(first + column)));
        var influence = Matrix<double>.Build.Dense(terms, n, (row, column) => pseudo[row, column] * unscale[row]);
        var coefficients = solution.PointwiseMultiply(unscale);
        var covariance = Matrix<double>.Build.Dense(terms, terms, (row, column) =>
            variance * pseudo.Row(row).DotProduct(pseudo.Row(column)) * unscale[row] * unscale[column]);
        return new PolynomialFit
        {
            Constant = constant,
            Coefficients = coefficients.ToArray(),
            Covariance = covariance.ToRowArrays(),
            StandardErrors = [.. Enumerable.Range(0, terms).Select(i => Math.Sqrt(covariance[i, i]))],
            ResidualStandardDeviation = Math.Sqrt(variance),
            DegreesOfFreedom = freedom,
            RSquared = total > 0 ? 1 - (squares / total) : 0,
            Residuals = residuals.ToArray(),
            Influence = influence,
            Design = Matrix<double>.Build.Dense(n, terms, (row, column) => scaled[row, column] / unscale[column]),
        };
    }

    /// <summary>The curve at a place.</summary>
    public double At(double x) => Polynomial.At(Coefficients, Constant, x);

    /// <summary>The slope at a place.</summary>
    public double SlopeAt(double x) => Polynomial.SlopeAt(Coefficients, Constant, x);
}
