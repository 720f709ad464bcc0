using System.Globalization;
using MathNet.Numerics.Distributions;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>Readings made into a curve, with how good it is. Nothing is in force by it.</summary>
public sealed record CalibrationFit
{
    /// <summary>The level at which the scatter is said to show less than the whole of the converter's rounding.</summary>
    private const double SeenAlpha = 0.05;

    /// <summary>The greatest degree of a calibration curve.</summary>
    public const int DegreeMax = 3;

    /// <summary>How the readings were fitted.</summary>
    public required FitSettings Settings { get; init; }

    /// <summary>The readings, as they were given.</summary>
    public required IReadOnlyList<CalibrationReading> Readings { get; init; }

    /// <summary>The fit of the rising readings: deflection in counts against force in newtons.</summary>
    public required PolynomialFit Polynomial { get; init; }

    /// <summary>The fitted points, for a plot of the residuals; in the order of <see cref="PolynomialFit.Residuals"/>.</summary>
    public required IReadOnlyList<FittedPoint> Points { get; init; }

    /// <summary>What the uncertainty of a force is computed from.</summary>
    public required UncertaintyModel Uncertainty { get; init; }

    /// <summary>How good it is.</summary>
    public required CalibrationFigures Figures { get; init; }

    /// <summary>The standard deviation of single samples in still windows, in counts: the mean square of the readings'; null where none
    /// looked.</summary>
    public double? NoiseCounts { get; init; }

    /// <summary>The greatest reference force in newtons.</summary>
    public double GreatestReferenceNewtons => Uncertainty.GreatestReferenceNewtons;

    /// <summary>The greatest deflection that was fitted, in counts (counts as read with a constant).</summary>
    public double GreatestDeflectionCounts => Points.MaxBy(point => point.ForceNewtons)!.DeflectionCounts;

    /// <summary>The curve as a pull is read by it: without a constant, and straight beyond the references.</summary>
    public ForceCurve Curve => new(Polynomial.Coefficients) { GreatestDeflectionCounts = GreatestDeflectionCounts };

    /// <summary>Fits readings.</summary>
    /// <exception cref="CalibrationRefusedException">The readings cannot carry it; says why.</exception>
    public static CalibrationFit Of(IReadOnlyList<CalibrationReading> readings, FitSettings settings, UncertaintyInputs? inputs = null)
    {
        if (settings.Degree is < 1 or > DegreeMax) throw new CalibrationRefusedException(CoreText.CalibrationDegreeNotPossible);
        var table = ReadingTable.Of(readings, settings.Constant);
        RefuseTooFewSteps(table, settings);
        var polynomial = Fit(table.Fitted, settings);
        RefuseSlope(polynomial, table, settings);
        var means = StepMeans.Of(table, settings.Constant);
        var scatter = ScatterModel.Of(polynomial, [.. table.Fitted.Select(point => settings.Constant ? "" : point.Reading.Series)],
            [.. table.Fitted.Select(point => point.ForceNewtons)], means);
        double increment = ConverterStep.Of(readings);
        var warnings = new List<Sentence>();
        var steps = new StepReader(table, polynomial, settings, increment, warnings);
        double rounding = Math.Max(1, steps.ShareRounded * increment) * Math.Abs(means.NewtonsPerCount) / Math.Sqrt(12);
        double seen = increment > 1 && means.IsPureError && !settings.Constant ? ShareSeen(means, rounding * rounding) : 0;
        var growth = GrowingNoise.Of(readings);
        var model = new UncertaintyModel
        {
            Constant = settings.Constant,
            Coefficients = polynomial.Coefficients,
            ScatterCovariance = scatter.Covariance.ToRowArrays(),
            ScatterVarianceSquareNewtons = scatter.Variance,
            ScatterDegreesOfFreedom = scatter.DegreesOfFreedom,
            ReferenceShifts = Shifts(table.Fitted, polynomial),
            GreatestReferenceNewtons = table.Steps[^1],
            Shape = CellShape.Of(table, means, polynomial, settings, rounding, seen),
            StepShifts = increment > 1 ? Rounding(table, polynomial, rounding, seen, settings.Constant) : [],
            ResolutionCounts = steps.ResolutionCounts,
            ReadingStandardCounts = steps.ReadingStandardCounts,
            ReadingDegreesOfFreedom = double.IsFinite(steps.ReadingFreedom) ? steps.ReadingFreedom : null,
            ReadingStepCounts = increment > 1 ? increment : null,
            ReadingGrowthCountsPerNewton = growth?.CountsPerNewton,
            ReadingGrowthDegreesOfFreedom = growth?.Freedom,
            ReversibilityNewtons = steps.ReversibilityNewtons(),
            ZeroDriftNewtons = steps.GreatestZeroReturnNewtons is { } shift ? Math.Abs(shift) : null,
            ZeroReturnNewtons = steps.ZeroReturnRootMeanSquareNewtons,
            ZeroReturns = table.ZeroReturnCounts.Count,
            CreepPercent = steps.GreatestCreepPercent(),
            Inputs = inputs ?? new(),
        };
        var figures = steps.Figures(model);
        double? zeroError = steps.GreatestZeroReturnNewtons is { } back ? 100 * back / table.Steps[^1] : null;
        var reached = ClassLimits.Of(figures, zeroError, out Sentence? whyNot);
        if (whyNot is not null) warnings.Add(whyNot);
        else if (model.ReferenceShifts.Count == 0) warnings.Add(CoreText.ClassOfExactReferences);
        var advice = DegreeAdvice.Of(table, means, settings.Constant);
        if (table.RisingSeries.Count == 2) warnings.Add(CoreText.CalibrationOfTwoSeries);
        int advised = advice.SecondDegreeWorthHaving == true ? 2 : 1;
        if (settings.Degree < advised) warnings.Add(CoreText.StraightLineOverBend);
        Sentence[] near = [.. GuardBand.Of(figures, model, reached)];
        warnings.AddRange(near);
        if (reached is not null) reached = reached with { WithinGuardBand = near.Length > 0 };
        if (!settings.Constant) warnings.AddRange(AssumptionAdvice.Of(model));
        return new CalibrationFit
        {
            Settings = settings,
            Readings = [.. readings],
            Polynomial = polynomial,
            Points =
                [.. table.Fitted
                .Select((point, i) => new FittedPoint(point.Reading.Series, point.ForceNewtons, point.DeflectionCounts,
                polynomial.Residuals[i]))],
            Uncertainty = model,
            NoiseCounts = Noise(readings),
            Figures = new CalibrationFigures
            {
                Steps = figures,
                ZeroErrorPercent = zeroError,
                Class = reached,
                DegreeAdvice = advice.Sentence,
                AdvisedDegree = advised,
                Warnings = warnings,
            },
        };
    }

    internal static PolynomialFit Fit(IEnumerable<ReadingTable.Point> points, FitSettings settings)
    {
        var list = points.ToList();
        return PolynomialFit.Of([.. list.Select(point => point.DeflectionCounts)], [.. list.Select(point => point.ForceNewtons)],
            settings.Degree, settings.Constant);
    }

    private static void RefuseTooFewSteps(ReadingTable table, FitSettings settings)
    {
        if (table.Steps.Count == 0) throw new CalibrationRefusedException(CoreText.CalibrationWithoutRisingReading);
        int terms = settings.Degree + (settings.Constant ? 1 : 0);
        int distinct = table.Steps.Count + (settings.Constant && table.Fitted.Any(point => point.Reading.IsZero) ? 1 : 0);
        if (distinct < 2 * terms) throw new CalibrationRefusedException(CoreText.CalibrationOfTooFewForces(settings.Degree,
            settings.Constant, terms, 2 * terms, distinct));
    }

    private static void RefuseSlope(PolynomialFit polynomial, ReadingTable table, FitSettings settings)
    {
        double greatest = table.Fitted.MaxBy(point => point.ForceNewtons).DeflectionCounts;
        double sign = Math.Sign(greatest);
        if (sign < 0 && !settings.NegativeSlopeAccepted)
        {
            var point = table.Fitted.MaxBy(candidate => candidate.ForceNewtons);
            throw new CalibrationRefusedException(CoreText.CalibrationCountsFall, point.Index, ReadingField.Counts)
            { SlopeIsNegative = true };
        }

        // A curve that turns back within its range gives one count for two forces.
        const int Places = 100;
        double least = settings.Constant ? table.Fitted.MinBy(point => point.ForceNewtons).DeflectionCounts : 0;
        for (int i = 0; i <= Places; i++)
        {
            if (!(polynomial.SlopeAt(least + ((greatest - least) * i / Places)) * sign > 0))
                throw new CalibrationRefusedException(CoreText.CalibrationCurveTurnsBack(settings.Degree));
        }
    }

    // A few degrees of freedom know a variance poorly: as long as the scatter may be all of the rounding it is taken to be.
    private static double ShareSeen(StepMeans means, double rounding)
    {
        double ratio = means.Variance / rounding;
        return ratio * means.Freedom >= ChiSquared.InvCDF(means.Freedom, SeenAlpha) ? 1 : ratio;
    }

    private static List<ReferenceShift> Shifts(IReadOnlyList<ReadingTable.Point> points, PolynomialFit polynomial)
    {
        var shifts = new Dictionary<string, double[]>(StringComparer.Ordinal);
        for (int i = 0; i < points.Count; i++)
        {
            foreach (var share in points[i].Reading.Reference.Shares)
            {
                if (!shifts.TryGetValue(share.Source, out double[]? shift))
                    shifts[share.Source] = shift = new double[polynomial.Coefficients.Count];
                for (int term = 0; term < shift.Length; term++) shift[term] += polynomial.Influence[term, i] * share.Newtons;
            }
        }

        return [.. shifts.Select(pair => new ReferenceShift(pair.Key, pair.Value))];
    }

    // Where the zeros wander, each reading is rounded by itself: the scatter about steps and series holds that (the share `seen` of it),
    // and what a series' readings share is its zero's rounding, which is the same before and after and shows in no return. As far as the
    // scatter does not show it, the readings of one step are rounded alike, and so are all zeros.
    private static List<ReferenceShift> Rounding(ReadingTable table, PolynomialFit polynomial, double roundingNewtons, double seen,
        bool constant)
    {
        double commonRounding = roundingNewtons * Math.Sqrt(1 - seen);
        var shifts = table.Steps.Select(step => Shift(step.ToString("R", CultureInfo.InvariantCulture), commonRounding,
            point => ReadingTable.Same(point.ForceNewtons, step))).ToList();
        if (constant) return shifts;
        shifts.Add(Shift("0", commonRounding, point => !point.Reading.IsZero));
        shifts.AddRange(table.RisingSeries.Select(series => Shift("0/" + series, roundingNewtons * Math.Sqrt(seen),
            point => point.Reading.Series == series)));
        return shifts;

        ReferenceShift Shift(string name, double newtons, Func<ReadingTable.Point, bool> concerns)
        {
            var shift = new double[polynomial.Coefficients.Count];
            for (int i = 0; i < table.Fitted.Count; i++)
            {
                for (int term = 0; term < shift.Length && concerns(table.Fitted[i]); term++)
                    shift[term] += polynomial.Influence[term, i] * newtons;
            }

            return new ReferenceShift(name, shift);
        }
    }

    private static double? Noise(IReadOnlyList<CalibrationReading> readings)
    {
        var withNoise = readings.Where(reading => reading.NoiseCounts is not null).Select(reading => reading.NoiseCounts!.Value).ToList();
        return withNoise.Count > 0 ? Math.Sqrt(withNoise.Average(noise => noise * noise)) : null;
    }
}

/// <summary>One point of the fit.</summary>
/// <param name="Series">The series.</param>
/// <param name="ForceNewtons">The reference force.</param>
/// <param name="DeflectionCounts">Counts less the series' zero (counts as read with a constant).</param>
/// <param name="ResidualNewtons">Reference force less the curve.</param>
public sealed record FittedPoint(string Series, double ForceNewtons, double DeflectionCounts, double ResidualNewtons);
