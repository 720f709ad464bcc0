using MathNet.Numerics.LinearAlgebra;

namespace RigDaq.Core.Calibration.Fitting;

/// <summary>
/// What the scatter of the points says about the coefficients when all points of a series share the error of that series' zero. Their
/// covariance is then σ²·V, V = I + (ones within a series), one zero being as uncertain as one reading. Taking the points as independent
/// would understate the slope's variance about fourfold at five even steps. σ² = RSS/tr(MV), with M = I − H, is unbiased, and its degrees of freedom are
/// tr(MV)²/tr((MV)²) (Satterthwaite 1946).
/// </summary>
internal sealed record ScatterModel(Matrix<double> Covariance, double Variance, double DegreesOfFreedom)
{
    /// <param name="fit">The fit.</param>
    /// <param name="seriesOfPoints">The series of each point; empty texts for points without a zero of their own.</param>
    public static ScatterModel Of(PolynomialFit fit, IReadOnlyList<string> seriesOfPoints)
    {
        int n = seriesOfPoints.Count;
        var shared = Matrix<double>.Build.Dense(n, n, (row, column) =>
            (row == column ? 1 : 0) + (seriesOfPoints[row].Length > 0 && seriesOfPoints[row] == seriesOfPoints[column] ? 1 : 0));
        var annihilator = Matrix<double>.Build.DenseIdentity(n) - (fit.Design * fit.Influence);
        var product = annihilator * shared;
        double trace = product.Trace();
        double traceOfSquare = (product * product).Trace();
        double squares = fit.Residuals.Sum(value => value * value);
        return new ScatterModel(
            fit.Influence * shared * fit.Influence.Transpose() * (squares / trace),
            squares / trace,
            trace * trace / traceOfSquare);
    }
}
