using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>The rising readings as one mean a step, with what each mean is uncertain by: the scatter of the readings about their step and
/// series, the error of a series' zero that all its readings share, the references, and the converter's step.</summary>
internal sealed class StepMeans
{
    /// <summary>The level at which series are said to differ by more than their zeros and readings explain.</summary>
    private const double SeriesAlpha = 0.05;

    /// <summary>What is allowed on a zero's variance for being told by three returns or so: the mean of three squares falls below two
    /// thirds of its expectation in 41 of 100 cases (χ² with 3 degrees of freedom).</summary>
    private const double FewReturns = 1.5;

    // Readings that differ by less than this share of the greatest force repeat exactly: it is the arithmetic's rounding.
    private const double Rounding = 1e-10;

    private StepMeans()
    {
    }

    /// <summary>The reference forces in newtons, rising.</summary>
    public required Vector<double> Forces { get; init; }

    /// <summary>The mean deflection at each, in counts.</summary>
    public required Vector<double> Deflections { get; init; }

    /// <summary>Newtons a count, of a straight line through zero.</summary>
    public required double NewtonsPerCount { get; init; }

    /// <summary>The variance of one reading about its step and series, in N².</summary>
    public required double Variance { get; init; }

    /// <summary>Its degrees of freedom; 0 where the readings leave none.</summary>
    public required int Freedom { get; init; }

    /// <summary>Whether the variance is the readings' own (several series) and not what a curve leaves over.</summary>
    public required bool IsPureError { get; init; }

    /// <summary>The variance of a series' zero over the mean variance of a reading.</summary>
    public required double ZeroRatio { get; init; }

    /// <summary>The variance of a reading at a force over the mean of all: the part that zeros have is the same everywhere, the rest comes
    /// of hanging and grows with the force's square.</summary>
    /// <param name="forceNewtons">The force.</param>
    public double RatioAt(double forceNewtons) => RatioAt(forceNewtons, GrowingPart, MeanSquareNewtons);

    /// <summary>The part of the variance that grows with the force, 0 to 1.</summary>
    private double GrowingPart { get; init; }

    private double MeanSquareNewtons { get; init; }

    /// <summary>The covariance of the means from scatter, in N².</summary>
    public required Matrix<double> Scatter { get; init; }

    /// <summary>The covariance of the reference forces, in N².</summary>
    public required Matrix<double> References { get; init; }

    /// <summary>The same as far as it can look like a bend. Where one figure a force was entered, nobody said what the forces share: they
    /// are taken as weights that are hung one upon another, each further one with an error of its own.</summary>
    public required Matrix<double> ReferencesAsBend { get; init; }

    /// <param name="table">The readings.</param>
    /// <param name="constant">Whether a constant is fitted: then no zero is taken off.</param>
    public static StepMeans Of(ReadingTable table, bool constant)
    {
        var points = table.Fitted.Where(point => !point.Reading.IsZero).ToList();
        int steps = table.Steps.Count;
        int[] stepOf = [.. points.Select(point => table.Steps.TakeWhile(step => !ReadingTable.Same(step, point.ForceNewtons)).Count())];
        var counts = Vector<double>.Build.Dense(steps);
        var deflections = Vector<double>.Build.Dense(steps);
        for (int i = 0; i < points.Count; i++)
        {
            counts[stepOf[i]]++;
            deflections[stepOf[i]] += points[i].DeflectionCounts;
        }

        double perCount = points.Sum(point => point.ForceNewtons * point.DeflectionCounts)
            / points.Sum(point => point.DeflectionCounts * point.DeflectionCounts);
        var (variance, freedom, pure, series) = Spread(points, stepOf, table, perCount);
        if (variance < Math.Pow(Rounding * table.Steps[^1], 2)) variance = 0;
        double ratio = constant ? 0 : RatioOfZeros(table, perCount, variance, freedom, pure ? series : null);
        double growing = constant ? 0 : Math.Max(0, 1 - ratio);
        double meanSquare = points.Average(point => point.ForceNewtons * point.ForceNewtons);
        var references = points.Select((point, i) => (point.Reading.Reference, Step: stepOf[i])).DistinctBy(pair => pair.Step)
            .OrderBy(pair => pair.Step).Select(pair => pair.Reference).ToArray();
        return new StepMeans
        {
            Forces = Vector<double>.Build.Dense(steps, i => table.Steps[i]),
            Deflections = deflections.PointwiseDivide(counts),
            NewtonsPerCount = perCount,
            Variance = variance,
            Freedom = freedom,
            IsPureError = pure,
            ZeroRatio = ratio,
            GrowingPart = growing,
            MeanSquareNewtons = meanSquare,
            Scatter = (Matrix<double>.Build.DenseDiagonal(steps, steps, i => RatioAt(table.Steps[i], growing, meanSquare) / counts[i])
                + (Shared(points, stepOf, table, counts) * ratio)) * variance,
            References = Matrix<double>.Build.Dense(steps, steps, (row, column) => references[row].CovarianceWith(references[column])),
            ReferencesAsBend = Matrix<double>.Build.Dense(steps, steps, (row, column) => IsEntered(references[row])
                && IsEntered(references[column])
                ? references[..(Math.Min(row, column) + 1)].Max(reference => Math.Pow(reference.StandardUncertaintyNewtons, 2))
                : references[row].CovarianceWith(references[column])),
        };
    }

    private static bool IsEntered(References.ReferenceForce reference) => reference.Shares is [{ Source: ReferenceForces.EnteredSource }];

    private static double RatioAt(double force, double growing, double meanSquare) => 1 - growing + (growing * force * force / meanSquare);

    // The variance of one reading in N², from an additive model of steps and series (a series' shift is its zero's error, judged apart).
    private static (double Variance, int Freedom, bool Pure, double SeriesMeanSquare) Spread(List<ReadingTable.Point> points, int[] stepOf,
        ReadingTable table, double perCount)
    {
        int steps = table.Steps.Count;
        int series = table.RisingSeries.Count;
        int freedom = points.Count - steps - (series - 1);
        if (freedom > 0)
        {
            var design = Matrix<double>.Build.Dense(points.Count, steps + series - 1, (row, column) =>
                column < steps ? (stepOf[row] == column ? 1 : 0)
                    : (points[row].Reading.Series == table.RisingSeries[column - steps + 1] ? 1 : 0));
            var deflections = Vector<double>.Build.Dense(points.Count, i => points[i].DeflectionCounts);
            var qr = design.QR();
            var diagonal = qr.R.Diagonal();

            // Series without a common step leave the design singular; the fit's own scatter is used then.
            if (diagonal.AbsoluteMinimum() > 1e-9 * diagonal.AbsoluteMaximum())
            {
                var residuals = deflections - (design * qr.Solve(deflections));
                var onSteps = design.SubMatrix(0, points.Count, 0, steps);
                var about = deflections - (onSteps * onSteps.QR().Solve(deflections));
                double within = residuals * residuals;
                double between = series > 1 ? Math.Max(0, (about * about) - within) / (series - 1) : 0;
                return (within / freedom * perCount * perCount, freedom, true, between * perCount * perCount);
            }
        }

        if (points.Count <= 2) return (0, 0, false, 0);
        var fit = PolynomialFit.Of([.. points.Select(point => point.DeflectionCounts)], [.. points.Select(point => point.ForceNewtons)], 2,
            constant: false);
        return (fit.ResidualStandardDeviation * fit.ResidualStandardDeviation, fit.DegreesOfFreedom, false, 0);
    }

    // A zero is taken to be as uncertain as a reading, unless the zeros' returns tell that it is better (nothing is hung there) or the
    // series lie farther apart than that.
    private static double RatioOfZeros(ReadingTable table, double perCount, double variance, int freedom, double? seriesMeanSquare)
    {
        if (!(variance > 0) || seriesMeanSquare is not { } between) return 1;
        double ratio = 1;
        if (table.ZeroReturnCounts.Count > 1)
            ratio =
            Math.Min(1, FewReturns * table.ZeroReturnCounts.Values.Average(counts => counts * counts) / 2 * perCount * perCount / variance);
        int series = table.RisingSeries.Count;
        if (series > 1 && between / variance > FisherSnedecor.InvCDF(series - 1, freedom, 1 - SeriesAlpha))
            ratio = Math.Max(ratio, ((between / variance) - 1) / table.Steps.Count);
        return ratio;
    }

    // The covariance of step means per unit of a zero's variance: it is shared by all readings of its series.
    private static Matrix<double> Shared(List<ReadingTable.Point> points, int[] stepOf, ReadingTable table, Vector<double> counts)
    {
        var series = table.RisingSeries.ToList();
        var perSeries = Matrix<double>.Build.Dense(table.Steps.Count, series.Count);
        for (int i = 0; i < points.Count; i++) perSeries[stepOf[i], series.IndexOf(points[i].Reading.Series)] += 1 / counts[stepOf[i]];
        return perSeries * perSeries.Transpose();
    }
}
