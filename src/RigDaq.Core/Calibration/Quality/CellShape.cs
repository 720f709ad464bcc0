using MathNet.Numerics.LinearAlgebra;
using RigDaq.Core.Calibration.Fitting;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// What the references tell about the shape of the cell beside the chosen curve, kept so that it can be asked at any force. A cell that is
/// not straight reads <c>F + c₂·F²/F_x + c₃·F³/F_x²</c> (F_x the greatest reference): what of it the curve leaves is what readings and
/// references show in the means of the steps. A bow and an S of a data sheet's non-linearity are both of this form.
/// </summary>
public sealed record CellShape
{
    /// <summary>How much the means of the steps tell about c₂ and c₃: the inverse of their covariance, were nothing known before.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> Information { get; init; }

    /// <summary>The same, times what they would be.</summary>
    public required IReadOnlyList<double> Evidence { get; init; }

    /// <summary>What the fit makes of the square and of the cube of F/F_x: one polynomial in F/F_x each, of the degree of the curve, in
    /// units of F_x. What it leaves of them is what a force is missed by.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> Absorbed { get; init; }

    /// <summary>By how much each coefficient is off, as the residuals show it were the cell straight: the errors that a bend is read from
    /// are in the fit, too, unless it weighs each reading by its scatter. Empty in records from before it was kept.</summary>
    public IReadOnlyList<double> Shift { get; init; } = [];

    /// <summary>What of that is the bend: for each coefficient what c₂ = 1 and c₃ = 1 take off again.</summary>
    public IReadOnlyList<IReadOnlyList<double>> ShiftOfBend { get; init; } = [];

    /// <summary>The coefficients' covariance as far as the residuals show it.</summary>
    public IReadOnlyList<IReadOnlyList<double>> ShownCovariance { get; init; } = [];

    /// <summary>The whole of it.</summary>
    public IReadOnlyList<IReadOnlyList<double>> WholeCovariance { get; init; } = [];

    /// <summary>The depth of an S at a quarter or so, x(1 − x)(1 − 2x) at x = (3 − √3)/6; its inverse makes an S of depth 1.</summary>
    private const double DepthOfS = 0.09622504486493763;

    // Its exponential is still a number.
    private const double LogMax = 700;

    /// <summary>A cell may be worse than its sheet, or than what was assumed: by so much, if the references are likelier so.</summary>
    private static readonly double[] Widenings = [1, 1.5, 2, 3, 4, 6, 8];

    /// <summary>
    /// What is given beforehand to a cell that is as straight as its references can show, inside them: enough that many of them that speak
    /// for it are believed, and little enough that cells bent by what they just show are held (with a tenth those are held 92 % at a
    /// quarter of the range under weights M3, with a fiftieth the interval on straight cells is 1.9 times what knowing would need). Beyond,
    /// where nobody looked, nothing.
    /// </summary>
    private const double StraightBeforehand = 0.05;

    internal static CellShape Of(ReadingTable table, StepMeans means, PolynomialFit curve, FitSettings settings, double roundingNewtons,
        double seen)
    {
        double greatest = table.Steps[^1];
        int steps = means.Forces.Count, first = settings.Constant ? 0 : 1, terms = 2 - first;
        double[] places = [.. table.Fitted.Select(point => point.ForceNewtons / greatest)];
        var shape = new CellShape { Information = [[0, 0], [0, 0]], Evidence = [0, 0], Absorbed = [Take(2), Take(3)] };
        if (steps <= terms) return shape;

        // y = X·α − Z·c + noise at the means: y the reference forces, X the deflection (and a constant), Z the forces' square and cube.
        // Contrasts that X does not reach: whatever the degree of the curve, the cell's bend is seen against a straight line.
        double scale = means.Deflections.AbsoluteMaximum();
        var powers = Matrix<double>.Build.Dense(steps, terms, (row, column) => Math.Pow(means.Deflections[row] / scale, first + column));
        var contrasts = powers.Svd().U.SubMatrix(0, steps, terms, steps - terms).Transpose();
        var bend = contrasts * Matrix<double>.Build.Dense(steps, 2, (row, column) =>
            -greatest * Math.Pow(means.Forces[row] / greatest, column + 2));
        var noise = Noise(means, roundingNewtons * roundingNewtons, seen, table.RisingSeries.Count);
        var weights = (contrasts * noise * contrasts.Transpose()).Inverse();
        var residuals = contrasts * means.Forces;

        // What the fit makes of the same noise, and how much of that the contrasts tell.
        var influence = Matrix<double>.Build.Dense(curve.Coefficients.Count, steps, (term, step) =>
            table.Fitted.Select((point, i) => ReadingTable.Same(point.ForceNewtons, table.Steps[step]) ? curve.Influence[term, i] : 0)
                .Sum());
        var told = influence * noise * contrasts.Transpose() * weights;
        return shape with
        {
            Information = (bend.Transpose() * weights * bend).ToRowArrays(),
            Evidence = (bend.Transpose() * weights * residuals).ToArray(),
            Shift = (told * residuals).ToArray(),
            ShiftOfBend = (told * bend).ToRowArrays(),
            ShownCovariance = (told * contrasts * noise * influence.Transpose()).ToRowArrays(),
            WholeCovariance = (influence * noise * influence.Transpose()).ToRowArrays(),
        };

        IReadOnlyList<double> Take(int power) =>
            PolynomialFit.Of(places, [.. places.Select(place => Math.Pow(place, power))], settings.Degree, settings.Constant).Coefficients;
    }

    // One step of the converter, rounded once at the shared zero and once at the reading; it also keeps exact readings from telling
    // everything. As far as the scatter shows the rounding, each series has a zero of its own, and the readings' is in the scatter. The
    // scatter, known from few degrees of freedom, is taken as wide as its t.
    private static Matrix<double> Noise(StepMeans means, double rounding, double seenInScatter, int series)
    {
        int steps = means.Forces.Count;
        double commonRounding = rounding * (1 - seenInScatter), ofZeros = commonRounding + (rounding * seenInScatter / series);
        double normal = EffectiveFreedom.CoverageFactor(double.PositiveInfinity, ForceUncertainty.Coverage);
        double wider = means.Freedom > 0 ? EffectiveFreedom.CoverageFactor(means.Freedom, ForceUncertainty.Coverage) / normal : 1;
        return (means.Scatter * (wider * wider)) + means.ReferencesAsBend
            + Matrix<double>.Build.Dense(steps, steps, ofZeros) + Matrix<double>.Build.DenseDiagonal(steps, commonRounding);
    }

    /// <summary>The share of the fit's variance at a force that the residuals do not show, 0 to 1.</summary>
    internal double ShareNotShown(BudgetPlace place)
    {
        double whole = place.Variance(WholeCovariance);
        return whole > 0 ? Math.Clamp(1 - (place.Variance(ShownCovariance) / whole), 0, 1) : 1;
    }

    /// <summary>What is to be expected at a force of a cell of a given non-linearity, after what the references told.</summary>
    /// <param name="forceNewtons">The force.</param>
    /// <param name="line">What a shift of the coefficients does there.</param>
    /// <param name="greatestNewtons">The greatest reference force.</param>
    /// <param name="constant">Whether the curve has a constant.</param>
    /// <param name="depthNewtons">The non-linearity of the terminal line: the depth of a bow or of an S, rectangular within ± it.</param>
    /// <param name="fullScaleNewtons">The full scale that the depth belongs to.</param>
    /// <returns>By how much the curve is expected to read too high, and the standard uncertainty of that, both in newtons.</returns>
    internal (double ExpectedNewtons, double StandardNewtons) At(double forceNewtons, BudgetPlace line, double greatestNewtons,
        bool constant, double depthNewtons, double fullScaleNewtons)
    {
        // Columns: c₂ and c₃ of a bow and of an S of one standard uncertainty, the part in proportion to the force left out: any
        // calibration takes it up.
        double share = greatestNewtons / fullScaleNewtons;
        double one = depthNewtons / Math.Sqrt(3) / greatestNewtons;
        var bySize = Matrix<double>.Build.DenseOfRows(
        [[-4 * one * share * share, -3 / DepthOfS * one * share * share], [0, 2 / DepthOfS * one * share * share * share]]);
        var seen = bySize.Transpose() * Matrix<double>.Build.DenseOfRows(Information) * bySize;
        var evidence = bySize.Transpose() * Vector<double>.Build.DenseOfEnumerable(Evidence);
        double wider = Widenings.MaxBy(size => LogLikelihood(seen, evidence, size));
        double straight = forceNewtons > greatestNewtons * ForceUncertainty.InsideMargin ? 0 : StraightBeforehand
            / (StraightBeforehand + ((1 - StraightBeforehand) * Math.Exp(Math.Min(LogLikelihood(seen, evidence, wider), LogMax))));
        (bySize, seen, evidence) = (bySize * wider, seen * (wider * wider), evidence * wider);
        var posterior = (seen + Matrix<double>.Build.DenseIdentity(2)).Inverse();
        var expected = posterior * evidence;
        double place = forceNewtons / greatestNewtons;
        var missed = bySize.Transpose() * Vector<double>.Build.Dense(2, i =>
            greatestNewtons * (Math.Pow(place, i + 2) - Polynomial.StraightBeyond(Absorbed[i], constant, place, 1))
            - (ShiftOfBend.Count > 0 ? line.Shifted([.. ShiftOfBend.Select(term => term[i])]) : 0));
        double bent = missed * expected;

        // Straight or bent: the mean of both, and the scatter of both with what lies between them.
        double variance = (1 - straight) * (Math.Max(0, missed * posterior * missed) + (straight * bent * bent));
        return (((1 - straight) * bent) + (Shift.Count > 0 ? line.Shifted(Shift) : 0), Math.Sqrt(variance));
    }

    // Of the evidence, the two sizes being normal with a standard deviation of one size each; but for a constant.
    private static double LogLikelihood(Matrix<double> seen, Vector<double> evidence, double size)
    {
        var inner = Matrix<double>.Build.DenseIdentity(2) + (seen * (size * size));
        return (size * size * (evidence * inner.Inverse() * evidence) / 2) - (Math.Log(inner.Determinant()) / 2);
    }
}
