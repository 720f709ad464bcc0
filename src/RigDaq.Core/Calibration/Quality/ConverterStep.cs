using RigDaq.Core.Calibration.Fitting;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>The converter's true step, found from the readings: some deliver counts whose last bits never change (a coarse converter behind
/// a fine scale, counts that were shifted or multiplied). Readings then lie on a grid wider than one count.</summary>
public static class ConverterStep
{
    /// <summary>Readings that are looked at.</summary>
    public const int ReadingsMax = 60;

    /// <summary>Fewer readings on a grid tell nothing.</summary>
    public const int ReadingsMin = 5;

    /// <summary>The share of all readings that must lie on the grid where nothing else speaks for it.</summary>
    public const double ShareMin = 0.4;

    /// <summary>The same where the windows' ranges are whole steps, too: the mean of a window that saw two steps lies between
    /// them.</summary>
    public const double ShareMinWithRanges = 0.2;

    /// <summary>The chance, at most, that readings without a grid would lie on one so.</summary>
    public const double ChanceMax = 1e-3;

    private const int Origins = 6;
    private const double SharedDivisor = 6 / (Math.PI * Math.PI);

    /// <summary>A step of the load has so many steps of the converter at the least.</summary>
    private const double ShareOfLoadStep = 32;

    // Three ranges are all multiples of ten or more by chance in 6 of 1,000 cases (the sum of 1/q³ from ten on); of equal ones nothing can
    // be told.
    private const int RangesMin = 3;
    private const long StepOfRangesMin = 10;

    // Two differences have a common divisor of q or more by chance in 0.6/q, three in 0.4/q² of all cases: one per cent and less.
    private const int RepeatedMin = 3;
    private const long StepOfThreeMin = 64;
    private const long StepOfMoreMin = 16;

    /// <summary>The step in counts; 1 where no wider one shows.</summary>
    /// <param name="counts">Readings in counts.</param>
    /// <param name="greatestCounts">No wider step is looked for: equal steps of load make a grid, too.</param>
    /// <param name="rangesCounts">Greatest less least count of windows, where they were looked at: a range is always so many steps.</param>
    public static double Of(IEnumerable<double> counts, double greatestCounts = double.PositiveInfinity,
        IReadOnlyList<double>? rangesCounts = null)
    {
        double[] all = [.. counts.Take(ReadingsMax).Distinct()];
        long[] whole = [.. all.Where(value => Math.Abs(value) < 1e15 && Math.Abs(value - Math.Round(value)) < 1e-6)
            .Select(value => (long)Math.Round(value))];
        double shareMin = rangesCounts is { Count: > 0 } ? ShareMinWithRanges : ShareMin;
        double best = 1, likeliest = 0;
        for (int origin = 0; origin < Math.Min(Origins, whole.Length); origin++)
        {
            long[] away = [.. whole.Where((_, i) => i != origin).Select(value => Math.Abs(value - whole[origin]))];
            for (int i = 0; i < away.Length; i++)
            {
                for (int j = i + 1; j < away.Length; j++)
                {
                    long candidate = Divisor(away[i], away[j]);
                    int on = away.Count(value => value % candidate == 0);
                    if (candidate <= 1 || candidate > greatestCounts || on + 1 < shareMin * all.Length
                        || !Holds(candidate, on, away.Length)) continue;
                    if (rangesCounts?.Any(range => range % candidate != 0) == true) continue;
                    double likelihood = LogLikelihood(candidate, on, all.Length - 1);
                    if (likelihood > likeliest) (best, likeliest) = (candidate, likelihood);
                }
            }
        }

        return best;
    }

    /// <summary>By the readings, or by the ranges of their windows, where those show a wider one: a mean lies between the steps, a range is
    /// always so many.</summary>
    internal static double Of(IReadOnlyList<CalibrationReading> readings)
    {
        double[] forces = [.. readings.Select(reading => reading.Reference.Newtons).Where(force => force > 0).Append(0).Distinct().Order()];
        double span = readings.Max(reading => reading.Counts) - readings.Min(reading => reading.Counts);
        double closest =
            forces.Zip(forces.Skip(1), (one, next) => next - one).DefaultIfEmpty(0).Min() * span / Math.Max(forces[^1], double.Epsilon);
        double[] seen = [.. readings.Select(reading => reading.FluctuationCounts).OfType<double>().Where(range => range < 1e15)
            .Take(ReadingsMax)];
        double[] found = [Of(readings.Select(reading => reading.Counts), closest / ShareOfLoadStep, seen), OfRanges(seen),
            OfRepeated(readings, closest / ShareOfLoadStep, seen)];
        return found.Max();
    }

    // Means that come back exactly are rounded ones: where the zero stays all series read the same few values, and those lie on the grid.
    // Equal steps of load make equal differences; where other means are not whole, it was no person who wrote whole counts, and the values
    // themselves are so many steps, as their ranges are.
    private static double OfRepeated(IReadOnlyList<CalibrationReading> readings, double greatestCounts, double[] ranges)
    {
        long[] back =
        [
            .. readings.GroupBy(reading => reading.Counts).Where(group => group.Count() > 1 && group.Key == Math.Round(group.Key)
                && Math.Abs(group.Key) < 1e15)
                .Select(group => (long)group.Key),
        ];
        double best = 1;
        if (back.Length >= RepeatedMin)
        {
            long divisor = back.Skip(1).Select(value => Math.Abs(value - back[0])).Aggregate(Divisor);
            if (divisor >= (back.Length == RepeatedMin ? StepOfThreeMin : StepOfMoreMin)) Take(divisor);
        }

        if (back.Length > 1 && readings.Any(reading => reading.Counts != Math.Round(reading.Counts)))
        {
            var moved = ranges.Where(range => range > 0 && range == Math.Round(range)).Select(range => (long)range);
            long divisor = back.Select(Math.Abs).Concat(moved).Aggregate(Divisor);
            if (divisor >= (back.Length < RepeatedMin ? StepOfThreeMin : StepOfMoreMin)) Take(divisor);
        }

        return best;

        void Take(long divisor)
        {
            if (divisor <= greatestCounts && Array.TrueForAll(ranges, range => range % divisor == 0)) best = Math.Max(best, divisor);
        }
    }

    private static double OfRanges(double[] seen)
    {
        if (seen.Any(range => range != Math.Round(range))) return 1;
        long[] ranges = [.. seen.Select(range => (long)range)];
        long[] moved = [.. ranges.Where(range => range > 0)];

        // Where one window stood quite still and another did not, the other saw two lines of the grid.
        bool coarse = moved.Length > 0 && moved.Length < ranges.Length;
        if (!coarse && (moved.Length < RangesMin || moved.Distinct().Count() == 1)) return 1;
        long divisor = moved.Aggregate(Divisor);
        return coarse || divisor >= StepOfRangesMin ? divisor : 1;
    }

    // Two of the readings made the candidate; the others lie on it by chance one time in as many counts.
    private static bool Holds(long candidate, int on, int away)
    {
        int others = away - 2;
        if (on + 1 < ReadingsMin || others < 1) return false;

        // Pairs were tried, so the chance is multiplied by their number (Bonferroni); two numbers have a common divisor of q or more by
        // chance in 0.6/q of all cases (6/π² of pairs have none, and Σ 1/k² from q on is about 1/q).
        double pairs = away * (away - 1) / 2.0 * Origins;
        return pairs * (SharedDivisor / candidate) * Tail(others, on - 2, 1.0 / candidate) <= ChanceMax;
    }

    // Over that of no grid: a share of the readings lies on the grid, as many times likelier there as it is wide; the others lie anywhere.
    // A mean of a window that saw two steps lies on a finer grid, whose every line is little likelier.
    private static double LogLikelihood(long candidate, int on, int all)
    {
        double share = (on + 0.5) / (all + 1);
        return (on * Math.Log((share * candidate) + 1 - share)) + ((all - on) * Math.Log(1 - share));
    }

    private static double Tail(int n, int least, double p) =>
        least <= 0 ? 1 : 1 - MathNet.Numerics.Distributions.Binomial.CDF(p, n, least - 1);

    private static long Divisor(long a, long b)
    {
        while (b != 0) (a, b) = (b, a % b);
        return a;
    }
}
