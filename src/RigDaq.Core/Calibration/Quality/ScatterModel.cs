using MathNet.Numerics.LinearAlgebra;
using RigDaq.Core.Calibration.Fitting;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// What the scatter of the points says about the coefficients when all points of a series share the error of that series' zero. Their
/// covariance is then σ²·V, V = I + (ones within a series), one zero being as uncertain as one reading. Taking the points as independent
/// would understate the slope's variance about fourfold at five even steps. σ² = RSS/tr(MV), with M = I − H, is unbiased, and its degrees
/// of freedom are tr(MV)²/tr((MV)²) (Satterthwaite 1946). Where several series read the same steps σ² is their scatter about step and
/// series instead: a cell's bend is no scatter, and has a line of its own. What a zero's variance is over a reading's is told by the zeros'
/// returns.
/// </summary>
internal sealed record ScatterModel(Matrix<double> Covariance, double Variance, double DegreesOfFreedom)
{
    /// <summary>With fewer degrees of freedom the readings' own scatter is too poorly known to be taken alone.</summary>
    private const int FreedomMin = 4;

    /// <param name="fit">The fit.</param>
    /// <param name="seriesOfPoints">The series of each point; empty texts for points without a zero of their own.</param>
    /// <param name="forcesNewtons">The force of each point.</param>
    /// <param name="means">The means of the steps: how the readings scatter about their step and series, and their zeros.</param>
    public static ScatterModel Of(PolynomialFit fit, IReadOnlyList<string> seriesOfPoints, IReadOnlyList<double> forcesNewtons,
        StepMeans means)
    {
        int n = seriesOfPoints.Count;
        var shared = Matrix<double>.Build.Dense(n, n, (row, column) =>
            (row == column ? means.RatioAt(forcesNewtons[row]) : 0)
                + (seriesOfPoints[row].Length > 0 && seriesOfPoints[row] == seriesOfPoints[column] ? means.ZeroRatio : 0));
        bool zerosTaken = seriesOfPoints.Any(series => series.Length > 0);
        if (zerosTaken && means is { IsPureError: true, Freedom: >= FreedomMin, Variance: > 0 })
            return new ScatterModel(fit.Influence * shared * fit.Influence.Transpose() * means.Variance, means.Variance, means.Freedom);
        var annihilator = Matrix<double>.Build.DenseIdentity(n) - (fit.Design * fit.Influence);
        var product = annihilator * shared;
        double trace = product.Trace();
        double traceOfSquare = (product * product).Trace();
        double squares = fit.Residuals.Sum(value => value * value);
        return new ScatterModel(fit.Influence * shared * fit.Influence.Transpose() * (squares / trace), squares / trace,
            trace * trace / traceOfSquare);
    }
}
