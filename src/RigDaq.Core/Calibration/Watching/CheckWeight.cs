using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Watching;

/// <summary>One reading of the check weight, before work.</summary>
/// <param name="At">When.</param>
/// <param name="ForceNewtons">What the calibration in force indicated, above zero.</param>
/// <param name="CalibrationId">That calibration.</param>
public sealed record CheckWeightReading(DateTimeOffset At, double ForceNewtons, string CalibrationId);

/// <summary>What the check weight says.</summary>
public enum CheckWeightVerdict
{
    /// <summary>It was never read under this calibration.</summary>
    NotRead,

    /// <summary>Too few readings for a chart; the last one lies within the uncertainties of the calibration and of the weight.</summary>
    Baseline,

    /// <summary>Within the charts' limits.</summary>
    Within,

    /// <summary>Outside: a sequence asks for a new calibration.</summary>
    Outside,
}

/// <summary>One point of the charts.</summary>
/// <param name="At">When.</param>
/// <param name="ForceNewtons">The reading.</param>
/// <param name="AverageNewtons">The moving average after it; null in the baseline.</param>
/// <param name="AverageLowerNewtons">Its lower limit.</param>
/// <param name="AverageUpperNewtons">Its upper limit.</param>
/// <param name="Outside">Whether the reading or its average lies outside.</param>
public sealed record CheckWeightPoint(DateTimeOffset At, double ForceNewtons, double? AverageNewtons, double? AverageLowerNewtons,
    double? AverageUpperNewtons, bool Outside);

/// <summary>The daily check weight under one calibration: an individuals chart and a moving average beside it.</summary>
public sealed record CheckWeight
{
    /// <summary>Readings before there is a chart: with ten its limits give false alarms in 7.5 % of readings.</summary>
    public const int BaselineReadings = 30;

    /// <summary>What it says now.</summary>
    public required CheckWeightVerdict Verdict { get; init; }

    /// <summary>In one sentence.</summary>
    public required Sentence Sentence { get; init; }

    /// <summary>The individuals chart; null before the baseline is complete.</summary>
    public IndividualsChart? Individuals { get; init; }

    /// <summary>The points, in the order of time.</summary>
    public IReadOnlyList<CheckWeightPoint> Points { get; init; } = [];

    /// <summary>Whether a sequence has to ask for a new calibration first.</summary>
    public bool AsksForCalibration => Verdict == CheckWeightVerdict.Outside;

    /// <summary>Judges the readings under a calibration.</summary>
    /// <param name="readings">All readings of this weight; those under other calibrations are left out.</param>
    /// <param name="calibrationId">The calibration in force.</param>
    /// <param name="referenceNewtons">The weight's force.</param>
    /// <param name="referenceStandardUncertaintyNewtons">Its standard uncertainty.</param>
    /// <param name="forceExpandedUncertaintyNewtons">Of a force of this size under the calibration; null where it is not known.</param>
    public static CheckWeight Of(IEnumerable<CheckWeightReading> readings, string calibrationId, double referenceNewtons,
        double referenceStandardUncertaintyNewtons, double? forceExpandedUncertaintyNewtons)
    {
        CheckWeightReading[] own = [.. readings.Where(reading => reading.CalibrationId == calibrationId).OrderBy(reading => reading.At)];
        if (own.Length == 0) return new CheckWeight { Verdict = CheckWeightVerdict.NotRead, Sentence = CoreText.CheckWeightNotRead };
        return own.Length <= BaselineReadings
            ? Early(own, referenceNewtons, referenceStandardUncertaintyNewtons, forceExpandedUncertaintyNewtons) : Charted(own);
    }

    private static CheckWeight Early(CheckWeightReading[] own, double reference, double referenceStandard, double? expanded)
    {
        double off = own[^1].ForceNewtons - reference;
        double allowed = Math.Sqrt(Math.Pow(2 * referenceStandard, 2) + Math.Pow(expanded ?? 0, 2));
        bool outside = expanded is not null && Math.Abs(off) > allowed;
        return new CheckWeight
        {
            Verdict = outside ? CheckWeightVerdict.Outside : CheckWeightVerdict.Baseline,
            Sentence = outside ? CoreText.CheckWeightOff(off, reference, allowed)
                : CoreText.CheckWeightBeforeChart(off, reference, own.Length, BaselineReadings),
            Points =
                [.. own.Select((reading, i) => new CheckWeightPoint(reading.At, reading.ForceNewtons, null, null, null, outside
                && i == own.Length - 1))],
        };
    }

    private static CheckWeight Charted(CheckWeightReading[] own)
    {
        var chart = IndividualsChart.Of([.. own.Take(BaselineReadings).Select(reading => reading.ForceNewtons)]);
        var ewma = new EwmaChart(chart.Centre, chart.Sigma);
        var averages = ewma.Averages(own.Skip(BaselineReadings).Select(reading => reading.ForceNewtons));
        var points = own.Select((reading, i) =>
        {
            bool single = reading.ForceNewtons > chart.Upper || reading.ForceNewtons < chart.Lower;
            if (i < BaselineReadings) return new CheckWeightPoint(reading.At, reading.ForceNewtons, null, null, null, single);
            double average = averages[i - BaselineReadings];
            double half = ewma.HalfWidth(i - BaselineReadings + 1);
            return new CheckWeightPoint(reading.At, reading.ForceNewtons, average, chart.Centre - half, chart.Centre + half,
                single || Math.Abs(average - chart.Centre) > half);
        }).ToArray();
        var last = points[^1];
        bool alone = last.ForceNewtons > chart.Upper || last.ForceNewtons < chart.Lower;
        return new CheckWeight
        {
            Verdict = last.Outside ? CheckWeightVerdict.Outside : CheckWeightVerdict.Within,
            Individuals = chart,
            Points = points,
            Sentence = !last.Outside
                ? CoreText.CheckWeightWithin
                : alone
                    ? CoreText.CheckWeightOutside(last.ForceNewtons, chart.Lower, chart.Upper)
                    : CoreText.CheckWeightShifted(last.AverageNewtons!.Value, last.AverageLowerNewtons!.Value,
                        last.AverageUpperNewtons!.Value),
        };
    }
}
