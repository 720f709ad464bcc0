using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// Whether a second degree is worth having over a straight line. Tested on step means by generalised least squares, with the covariance of the
/// reference forces and of the scatter: with real weights the plain F test takes the weights' own errors for a curve and fires falsely.
/// </summary>
public sealed record DegreeAdvice
{
    /// <summary>The level of the test.</summary>
    public const double Alpha = 0.05;

    /// <summary>Whether the second degree is worth having; null where the readings cannot tell.</summary>
    public bool? SecondDegreeWorthHaving { get; init; }

    /// <summary>The coefficient of degree 2 over its standard uncertainty.</summary>
    public double? T { get; init; }

    /// <summary>Two-sided, from t at effective degrees of freedom.</summary>
    public double? P { get; init; }

    /// <summary>By how much the second degree would change the force at the steps, at most, in per cent.</summary>
    public double? GreatestChangePercent { get; init; }

    /// <summary>One plain sentence.</summary>
    public required string Sentence { get; init; }

    internal static DegreeAdvice Of(ReadingTable table, bool constant)
    {
        var points = table.Fitted.Where(point => !point.Reading.IsZero).ToList();
        int steps = table.Steps.Count;
        if (steps < 4) return Unknown(CoreText.SecondDegreeOfTooFewSteps(steps));
        var stepOf = points.Select(point => table.Steps.TakeWhile(step => !ReadingTable.Same(step, point.ForceNewtons)).Count()).ToArray();
        var (variance, freedom) = Scatter(points, stepOf, table);
        if (freedom <= 0) return Unknown(CoreText.SecondDegreeWithoutScatter);

        var counts = Vector<double>.Build.Dense(steps);
        var deflections = Vector<double>.Build.Dense(steps);
        for (int i = 0; i < points.Count; i++)
        {
            counts[stepOf[i]]++;
            deflections[stepOf[i]] += points[i].DeflectionCounts;
        }

        deflections = deflections.PointwiseDivide(counts);
        var scatter = ScatterOfMeans(points, stepOf, table, counts, constant) * variance;
        var references = points.Select((point, i) => (point.Reading.Reference, Step: stepOf[i])).DistinctBy(pair => pair.Step)
            .OrderBy(pair => pair.Step).Select(pair => pair.Reference).ToArray();
        var total = Matrix<double>.Build.Dense(steps, steps, (row, column) => references[row].CovarianceWith(references[column]) + scatter[row, column]);
        if (!(variance > 0)) return Unknown(CoreText.SecondDegreeOfEqualReadings);

        double scale = deflections.AbsoluteMaximum();
        int first = constant ? 0 : 1;
        var design = Matrix<double>.Build.Dense(steps, 3 - first, (row, column) => Math.Pow(deflections[row] / scale, first + column));
        var forces = Vector<double>.Build.Dense(steps, i => table.Steps[i]);
        var weights = total.Inverse();
        var (curve, influence) = Fit(design, weights, forces);
        var (straight, _) = Fit(design.SubMatrix(0, steps, 0, design.ColumnCount - 1), weights, forces);
        var last = influence.Row(influence.RowCount - 1);
        double square = last * total * last;
        double scatterPart = last * scatter * last;
        double effective = square * square / (scatterPart * scatterPart) * freedom;
        double t = curve[^1] / Math.Sqrt(square);
        double p = 2 * (effective > 1e6 ? Normal.CDF(0, 1, -Math.Abs(t)) : StudentT.CDF(0, 1, effective, -Math.Abs(t)));
        double change = 100 * ((design * curve) - (design.SubMatrix(0, steps, 0, design.ColumnCount - 1) * straight)).PointwiseDivide(forces).AbsoluteMaximum();
        bool worth = p < Alpha;
        return new DegreeAdvice
        {
            SecondDegreeWorthHaving = worth,
            T = t,
            P = p,
            GreatestChangePercent = change,
            Sentence = worth ? CoreText.SecondDegreeWorthHaving(change, p) : CoreText.StraightLineEnough(change, p),
        };
    }

    private static (Vector<double> Coefficients, Matrix<double> Influence) Fit(Matrix<double> design, Matrix<double> weights, Vector<double> forces)
    {
        var influence = (design.Transpose() * weights * design).Inverse() * design.Transpose() * weights;
        return (influence * forces, influence);
    }

    private static DegreeAdvice Unknown(string sentence) => new() { Sentence = sentence };

    // The variance of one reading in N², from an additive model of steps and series (a series' shift is its zero's error, judged apart).
    private static (double Variance, int Freedom) Scatter(List<ReadingTable.Point> points, int[] stepOf, ReadingTable table)
    {
        int steps = table.Steps.Count;
        int series = table.RisingSeries.Count;
        double newtonsPerCount = points.Sum(point => point.ForceNewtons * point.DeflectionCounts) / points.Sum(point => point.DeflectionCounts * point.DeflectionCounts);
        int freedom = points.Count - steps - (series - 1);
        if (freedom > 0)
        {
            var design = Matrix<double>.Build.Dense(points.Count, steps + series - 1, (row, column) =>
                column < steps ? (stepOf[row] == column ? 1 : 0) : (points[row].Reading.Series == table.RisingSeries[column - steps + 1] ? 1 : 0));
            var deflections = Vector<double>.Build.Dense(points.Count, i => points[i].DeflectionCounts);
            var qr = design.QR();
            var diagonal = qr.R.Diagonal();

            // Series without a common step leave the design singular; the fit's own scatter is used then.
            if (diagonal.AbsoluteMinimum() > 1e-9 * diagonal.AbsoluteMaximum())
            {
                var residuals = deflections - (design * qr.Solve(deflections));
                return (residuals * residuals / freedom * newtonsPerCount * newtonsPerCount, freedom);
            }
        }

        if (points.Count <= 2) return (0, 0);
        var fit = PolynomialFit.Of([.. points.Select(point => point.DeflectionCounts)], [.. points.Select(point => point.ForceNewtons)], 2, constant: false);
        return (fit.ResidualStandardDeviation * fit.ResidualStandardDeviation, fit.DegreesOfFreedom);
    }

    // The covariance of step means per unit of a reading's variance; a series' zero is as uncertain as one reading and shared by its points.
    private static Matrix<double> ScatterOfMeans(List<ReadingTable.Point> points, int[] stepOf, ReadingTable table,
        Vector<double> counts, bool constant)
    {
        int steps = table.Steps.Count;
        var own = Matrix<double>.Build.DenseDiagonal(steps, steps, i => 1 / counts[i]);
        if (constant) return own;
        var series = table.RisingSeries.ToList();
        var perSeries = Matrix<double>.Build.Dense(steps, table.RisingSeries.Count);
        for (int i = 0; i < points.Count; i++)
            perSeries[stepOf[i], series.IndexOf(points[i].Reading.Series)] += 1 / counts[stepOf[i]];
        return own + (perSeries * perSeries.Transpose());
    }
}
