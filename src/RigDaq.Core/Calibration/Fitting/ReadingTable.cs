using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.Fitting;

/// <summary>Readings sorted out: zeros taken off, steps found, each falling reading beside its rising one.</summary>
internal sealed class ReadingTable
{
    // Two forces are one step where they differ by no more than binary rounding of the same sum.
    private const double SameForce = 1e-9;

    private ReadingTable()
    {
    }

    /// <summary>The points of the fit: deflection in counts against force.</summary>
    public required IReadOnlyList<Point> Fitted { get; init; }

    /// <summary>The falling readings.</summary>
    public required IReadOnlyList<Point> Falling { get; init; }

    /// <summary>The distinct forces above 0, rising.</summary>
    public required IReadOnlyList<double> Steps { get; init; }

    /// <summary>Zero return less zero, in counts, by series; none where a series has only one zero.</summary>
    public required IReadOnlyDictionary<string, double> ZeroReturnCounts { get; init; }

    /// <summary>The mean fluctuation of the unloaded reading in counts (the greatest of several would grow with their number); null where
    /// no zero looked at it.</summary>
    public required double? ZeroFluctuationCounts { get; init; }

    /// <summary>The fluctuation of each zero that looked at it.</summary>
    public required IReadOnlyList<double> ZeroRanges { get; init; }

    /// <summary>The rising series, in file order.</summary>
    public required IReadOnlyList<string> RisingSeries { get; init; }

    public static bool Same(double a, double b) => Math.Abs(a - b) <= SameForce * Math.Max(Math.Abs(a), Math.Abs(b));

    /// <exception cref="CalibrationRefusedException">A reading is wrong, or a series lacks its zero.</exception>
    public static ReadingTable Of(IReadOnlyList<CalibrationReading> readings, bool constant)
    {
        for (int i = 0; i < readings.Count; i++) Check(readings[i], i);
        var zeros = new Dictionary<string, double>(StringComparer.Ordinal);
        var returns = new Dictionary<string, double>(StringComparer.Ordinal);
        if (!constant)
        {
            foreach (var reading in readings.Where(reading => reading.IsZero))
            {
                if (!zeros.TryAdd(reading.Series, reading.Counts)) returns[reading.Series] = reading.Counts - zeros[reading.Series];
            }
        }

        var rising = new List<Point>();
        var falling = new List<Point>();
        for (int i = 0; i < readings.Count; i++)
        {
            var reading = readings[i];
            if (reading.IsZero && !constant) continue;
            double zero = 0;
            if (!constant && !zeros.TryGetValue(reading.Series, out zero))
                throw new CalibrationRefusedException(CoreText.FittingSeriesWithoutZero(reading.Series), i, ReadingField.Series);

            bool fits = reading.IsZero || reading.Direction == LoadDirection.Rising;
            (fits ? rising : falling).Add(new Point(reading, i, reading.Counts - zero));
        }

        var risen = rising.Where(point => !point.Reading.IsZero).ToList();
        foreach (var point in falling)
        {
            if (!risen.Exists(up => up.Reading.Series == point.Reading.Series))
                throw new CalibrationRefusedException(CoreText.FittingSeriesNeverRose(point.Reading.Series), point.Index,
                    ReadingField.Direction);
        }

        var steps = new List<double>();
        foreach (double force in risen.Select(point => point.ForceNewtons).Order())
        {
            if (steps.Count == 0 || !Same(force, steps[^1])) steps.Add(force);
        }

        return new ReadingTable
        {
            Fitted = rising,
            Falling = falling,
            Steps = steps,
            ZeroReturnCounts = returns,
            ZeroFluctuationCounts = readings.Where(reading => reading.IsZero).Average(reading => reading.FluctuationCounts),
            ZeroRanges = [.. readings.Where(reading => reading.IsZero).Select(reading => reading.FluctuationCounts).OfType<double>()],
            RisingSeries = [.. risen.Select(point => point.Reading.Series).Distinct(StringComparer.Ordinal)],
        };
    }

    private static void Check(CalibrationReading reading, int index)
    {
        if (!double.IsFinite(reading.Counts))
            throw new CalibrationRefusedException(CoreText.FittingCountsNotFinite, index, ReadingField.Counts);
        if (reading.Counts is >= CalibrationReading.CountsMax or <= CalibrationReading.CountsMin)
            throw new CalibrationRefusedException(CoreText.FittingSaturated, index, ReadingField.Counts);
        if (!(reading.Reference.Newtons >= 0) || !double.IsFinite(reading.Reference.Newtons))
            throw new CalibrationRefusedException(CoreText.FittingReferenceRange, index, ReadingField.Reference);
    }

    /// <summary>A reading with its zero taken off.</summary>
    internal readonly record struct Point(CalibrationReading Reading, int Index, double DeflectionCounts)
    {
        public double ForceNewtons => Reading.Reference.Newtons;
    }
}
