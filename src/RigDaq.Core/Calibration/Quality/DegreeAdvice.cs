using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// Whether a second degree is worth having over a straight line. Tested on step means by generalised least squares, with the covariance of
/// the reference forces and of the scatter: with real weights the plain F test takes the weights' own errors for a curve and fires falsely.
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
    public required Sentence Sentence { get; init; }

    internal static DegreeAdvice Of(ReadingTable table, StepMeans means, bool constant)
    {
        int steps = table.Steps.Count;
        if (steps < 4) return Unknown(CoreText.SecondDegreeOfTooFewSteps(steps));
        if (means.Freedom <= 0) return Unknown(CoreText.SecondDegreeWithoutScatter);
        if (!(means.Variance > 0)) return Unknown(CoreText.SecondDegreeOfEqualReadings);
        Vector<double> deflections = means.Deflections, forces = means.Forces;
        var scatter = means.Scatter;
        var total = means.References + scatter;

        double scale = deflections.AbsoluteMaximum();
        int first = constant ? 0 : 1;
        var design = Matrix<double>.Build.Dense(steps, 3 - first, (row, column) => Math.Pow(deflections[row] / scale, first + column));
        var weights = total.Inverse();
        var (curve, influence) = Fit(design, weights, forces);
        var (straight, _) = Fit(design.SubMatrix(0, steps, 0, design.ColumnCount - 1), weights, forces);
        var last = influence.Row(influence.RowCount - 1);
        double square = last * total * last;
        double scatterPart = last * scatter * last;
        double effective = square * square / (scatterPart * scatterPart) * means.Freedom;
        double t = curve[^1] / Math.Sqrt(square);
        double p = 2 * (effective > 1e6 ? Normal.CDF(0, 1, -Math.Abs(t)) : StudentT.CDF(0, 1, effective, -Math.Abs(t)));
        double change = 100 * ((design * curve) - (design.SubMatrix(0, steps, 0, design.ColumnCount - 1) * straight))
            .PointwiseDivide(forces).AbsoluteMaximum();
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

    private static (Vector<double> Coefficients, Matrix<double> Influence) Fit(Matrix<double> design, Matrix<double> weights,
        Vector<double> forces)
    {
        var influence = (design.Transpose() * weights * design).Inverse() * design.Transpose() * weights;
        return (influence * forces, influence);
    }

    private static DegreeAdvice Unknown(Sentence sentence) => new() { Sentence = sentence };
}
