using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>Reads the figures of ISO 7500-1 off the readings and the curve, step by step.</summary>
internal sealed class StepReader
{
    /// <summary>The mean range of a window of 80 normal samples, in standard deviations.</summary>
    internal const double RangeOfWindow = 4.85;

    /// <summary>As how many degrees of freedom one such range knows the variance.</summary>
    internal const double FreedomOfWindow = 30;

    // Three ranges of noise are equal, and twenty counts or more, by chance in 1.5 of 100 cases (their standard deviation is an eighth of
    // them).
    private const int EqualRangesMin = 3;
    private const double EqualRangeMin = 20;

    private readonly ReadingTable _table;
    private readonly PolynomialFit _curve;
    private readonly FitSettings _settings;
    private readonly List<Sentence> _warnings;

    public StepReader(ReadingTable table, PolynomialFit curve, FitSettings settings, double incrementCounts, List<Sentence> warnings)
    {
        _table = table;
        _curve = curve;
        _settings = settings;
        _warnings = warnings;
        ResolutionCounts = Resolution(incrementCounts);
        ShareRounded = incrementCounts > 1 ? Rounded(incrementCounts) : 1;
        (ReadingStandardCounts, ReadingFreedom) = Reading(incrementCounts);
        GreatestZeroReturnNewtons = ZeroReturn();
        Say();
    }

    /// <summary>The root mean square of the zeros' returns, in newtons; null where no series has one.</summary>
    public double? ZeroReturnRootMeanSquareNewtons => _table.ZeroReturnCounts.Count == 0 ? null
        : Math.Sqrt(_table.ZeroReturnCounts.Values.Average(counts => Math.Pow(_curve.At(counts), 2)));

    /// <summary>r in counts: one increment, or half the fluctuation and one increment where the reading fluctuates by more.</summary>
    public double ResolutionCounts { get; }

    /// <summary>The standard uncertainty of a reading less its zero in counts.</summary>
    public double ReadingStandardCounts { get; }

    /// <summary>Its degrees of freedom; infinite where it is all rounding.</summary>
    public double ReadingFreedom { get; }

    /// <summary>The greatest shift of the zero over a series by amount, signed; null where no series has a zero return.</summary>
    public double? GreatestZeroReturnNewtons { get; }

    public List<StepFigures> Figures(UncertaintyModel model) => [.. _table.Steps.Select(step => Figures(step, model))];

    /// <summary>|v| as a force, by step.</summary>
    public List<ForcePoint> ReversibilityNewtons() =>
    [
        .. _table.Steps.Select(step => (Step: step, Value: Reversibility(step)))
            .Where(pair => pair.Value is not null).Select(pair => new ForcePoint(pair.Step, Math.Abs(pair.Value!.Value))),
    ];

    public double? GreatestCreepPercent()
    {
        double? greatest = null;
        foreach (double step in _table.Steps)
        {
            if (Creep(step) is { } creep && !(greatest >= Math.Abs(creep))) greatest = Math.Abs(creep);
        }

        return greatest;
    }

    private StepFigures Figures(double step, UncertaintyModel model)
    {
        var risen = At(_table.Fitted, step);
        double[] indicated = [.. risen.Select(point => _curve.At(point.DeflectionCounts))];
        var reference = risen[0].Reading.Reference;
        var (mean, worst) = IndicationErrors(step, risen);
        double slope = Math.Abs(_curve.SlopeAt(risen.Average(point => point.DeflectionCounts)));
        return new StepFigures
        {
            ReferenceNewtons = step,
            RisingReadings = risen.Count,
            IndicatedNewtons = indicated.Average(),
            IndicationErrorPercent = mean,
            WorstIndicationErrorPercent = worst,
            RepeatabilityPercent = risen.Select(point => point.Reading.Series).Distinct().Count() > 1
                ? 100 * (indicated.Max() - indicated.Min()) / step : null,
            ReversibilityPercent = Reversibility(step) is { } difference ? 100 * difference / step : null,
            ResolutionPercent = 100 * ResolutionCounts * slope / step,
            CreepPercent = Creep(step),
            ExpandedUncertaintyPercent = ForceUncertainty.Of(model, step).ExpandedPercent,
            ReferenceExpandedUncertaintyPercent = reference.Shares.Count > 0 ? 100 * 2 * reference.StandardUncertaintyNewtons / step : null,
        };
    }

    // By a curve that has not seen the step.
    private (double? Mean, double? Worst) IndicationErrors(double step, List<ReadingTable.Point> risen)
    {
        var others = _table.Fitted.Where(point => !ReadingTable.Same(point.ForceNewtons, step)).ToList();
        if (others.Count == 0) return (null, null);
        PolynomialFit without;
        try
        {
            without = CalibrationFit.Fit(others, _settings);
        }
        catch (CalibrationRefusedException)
        {
            // What is left cannot carry the degree: the figure is not to be had, and Say has told why.
            return (null, null);
        }

        double[] errors = [.. risen.Select(point => 100 * (without.At(point.DeflectionCounts) - step) / step)];
        return (errors.Average(), errors.MaxBy(Math.Abs));
    }

    private double? Reversibility(double step)
    {
        double? greatest = null;
        foreach (var down in At(_table.Falling, step))
        {
            var up = At(_table.Fitted, step).Where(point => point.Reading.Series == down.Reading.Series).ToList();
            if (up.Count == 0) continue;
            double difference = _curve.At(down.DeflectionCounts) - up.Average(point => _curve.At(point.DeflectionCounts));
            if (!(Math.Abs(greatest ?? 0) > Math.Abs(difference))) greatest = difference;
        }

        return greatest;
    }

    private double? Creep(double step)
    {
        double? greatest = null;
        foreach (var point in At(_table.Fitted, step))
        {
            if (point.Reading.AfterDwellCounts is not { } after) continue;
            double creep = 100 * (after - point.Reading.Counts) * _curve.SlopeAt(point.DeflectionCounts) / step;
            if (!(Math.Abs(greatest ?? 0) > Math.Abs(creep))) greatest = creep;
        }

        return greatest;
    }

    private double Resolution(double increment)
    {
        double? fluctuation = Fluctuation();
        if (fluctuation is null)
        {
            _warnings.Add(CoreText.CalibrationOfOneCountResolution(increment));
            return increment;
        }

        if (increment > 1) _warnings.Add(CoreText.CalibrationOfCoarseSteps(increment));
        return fluctuation > increment ? (fluctuation.Value / 2) + increment : increment;
    }

    /// <summary>
    /// The share of a mean's rounding that its window's noise leaves, 0 to 1: the mean of rounded samples passes from one step to the next
    /// along the noise's distribution, whose slope there is that of a straight line √(2π)·σ long; between, it is a triangle wave as much
    /// lower.
    /// </summary>
    public double ShareRounded { get; }

    // A range of 80 normal samples is 4.85 standard deviations on average, rounded or not, and one such range knows them as thirty degrees
    // of freedom do (from memory: d2, d3 of control charts); a rounding is rectangular, step/√12, and the zero's is what its noise leaves
    // of it. Windows that all have one range stand on a grid that the means need not show: two steps of it were seen, or one.
    private (double Standard, double Freedom) Reading(double increment)
    {
        double noise = Math.Pow((Fluctuation() ?? 0) / RangeOfWindow, 2);
        double step = Math.Max(increment, EqualRange() / 2);
        double rounding = (1 + Math.Pow(Rounded(step), 2)) * step * step / 12;
        int windows = Math.Max(1, Windows());
        return (Math.Sqrt(noise + rounding), FreedomOfWindow * windows * Math.Pow((noise + rounding) / noise, 2));
    }

    private double Rounded(double increment) =>
        Math.Max(0, 1 - (Math.Sqrt(2 * Math.PI) * (Fluctuation() ?? 0) / RangeOfWindow / increment));

    private double EqualRange()
    {
        double[] ranges = [.. _table.ZeroRanges.Where(range => range >= EqualRangeMin)];
        bool equal = ranges.Length >= EqualRangesMin && ranges.Length == _table.ZeroRanges.Count
            && Array.TrueForAll(ranges, range => range == ranges[0]);
        return equal ? ranges[0] : 0;
    }

    private int Windows() => _table.ZeroRanges.Count > 0 ? _table.ZeroRanges.Count
        : _table.Fitted.Concat(_table.Falling).Count(point => point.Reading.FluctuationCounts is not null);

    private double? Fluctuation() =>
        _table.ZeroFluctuationCounts ?? _table.Fitted.Concat(_table.Falling).Select(point => point.Reading.FluctuationCounts).Average();

    private double? ZeroReturn() =>
        _table.ZeroReturnCounts.Count == 0 ? null : _table.ZeroReturnCounts.Values.Select(counts => _curve.At(counts)).MaxBy(Math.Abs);

    private static List<ReadingTable.Point> At(IEnumerable<ReadingTable.Point> points, double step) =>
        [.. points.Where(point => ReadingTable.Same(point.ForceNewtons, step))];

    private void Say()
    {
        if (GreatestZeroReturnNewtons is null)
            _warnings.Add(_settings.Constant ? CoreText.CalibrationZeroErrorOfConstant : CoreText.CalibrationZeroErrorUnknown);
        if (_table.RisingSeries.Count == 1) _warnings.Add(CoreText.CalibrationRepeatabilityUnknown);

        // At the greatest force a series turns round: there is nothing to compare.
        var unpaired = _table.Steps.SkipLast(1).Where(step => Reversibility(step) is null).ToList();
        if (_table.Falling.Count == 0) _warnings.Add(CoreText.CalibrationReversibilityUnknown);
        else if (unpaired.Count > 0) _warnings.Add(CoreText.CalibrationReversibilityUnknownAt(unpaired));
        int left = _table.Steps.Count - 1;
        if (left < _settings.Degree) _warnings.Add(CoreText.CalibrationIndicationErrorUnknown);
    }
}
