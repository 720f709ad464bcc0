using MathNet.Numerics.Distributions;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Statistics;

/// <summary>Fits a Weibull distribution to strengths, some of them right-censored.</summary>
public static class Weibull
{
    /// <summary>The fewest failures that a fit is made of: with two, both figures are only just determined.</summary>
    public const int FailuresMin = 3;

    /// <summary>A modulus beyond this means strengths without scatter.</summary>
    public const double ModulusMax = 1e4;

    private const double ModulusMin = 1e-3;
    private const int BisectionsMax = 200;

    /// <summary>Fits, or gives null and the reason.</summary>
    /// <param name="failures">Strengths in MPa at which specimens failed by themselves.</param>
    /// <param name="censored">Strengths in MPa that specimens reached before they failed in a grip.</param>
    /// <param name="confidencePercent">Of the intervals.</param>
    /// <param name="problem">Why there is no fit; empty where there is one.</param>
    public static WeibullFit? Fit(IReadOnlyList<double> failures, IReadOnlyList<double> censored, double confidencePercent,
        out Sentence problem)
    {
        problem = failures.Count < FailuresMin ? CoreText.WeibullTooFew(FailuresMin, failures.Count)
            : failures.Concat(censored).Any(x => !(x > 0 && double.IsFinite(x))) ? CoreText.WeibullStrengthsNotAboveZero
            : failures.All(x => x == failures[0]) ? CoreText.WeibullStrengthsAllAlike : Sentence.None;
        if (!problem.IsEmpty) return null;
        var likelihood = new Likelihood(failures, censored);
        double modulus = Root(likelihood.ProfileSlope, ModulusMin, ModulusMax);
        if (modulus >= ModulusMax)
        {
            problem = CoreText.WeibullScatterTooSmall;
            return null;
        }

        // The profile falls by half a χ² quantile of one degree of freedom at the ends (Meeker and Escobar 1998, 8.3).
        double z = Normal.InvCDF(0, 1, 0.5 + confidencePercent / 200), top = likelihood.OfModulus(modulus), floor = top - z * z / 2;
        double scale = likelihood.ScaleAt(modulus);
        return new WeibullFit
        {
            Modulus = modulus,
            ModulusLow = Edge(likelihood.OfModulus, floor, modulus, 0.5),
            ModulusHigh = Edge(likelihood.OfModulus, floor, modulus, 2),
            CharacteristicMegapascals = scale * likelihood.Unit,
            CharacteristicLowMegapascals = Edge(likelihood.OfScale, floor, scale, 0.9) * likelihood.Unit,
            CharacteristicHighMegapascals = Edge(likelihood.OfScale, floor, scale, 1.1) * likelihood.Unit,
            LogLikelihood = top - failures.Count * Math.Log(likelihood.Unit),
            Failures = failures.Count,
            Censored = censored.Count,
            Points = Points(failures, censored),
        };
    }

    /// <summary>Where a rising function crosses 0, by halving the logarithm of its argument.</summary>
    private static double Root(Func<double, double> rising, double low, double high)
    {
        for (int i = 0; i < BisectionsMax && high / low > 1 + 1e-14; i++)
        {
            double middle = Math.Sqrt(low * high);
            if (rising(middle) < 0) low = middle;
            else high = middle;
        }

        return Math.Sqrt(low * high);
    }

    /// <summary>Where the profile, walking off its top by factors, falls through the floor; null where it never does.</summary>
    private static double? Edge(Func<double, double> profile, double floor, double top, double factor)
    {
        const int StepsMax = 60;
        double inside = top, outside = top * factor;
        for (int step = 0; profile(outside) > floor; step++)
        {
            if (step == StepsMax) return null;
            (inside, outside) = (outside, outside * factor);
        }

        for (int i = 0; i < BisectionsMax && Math.Abs(outside / inside - 1) > 1e-13; i++)
        {
            double middle = Math.Sqrt(inside * outside);
            if (profile(middle) > floor) inside = middle;
            else outside = middle;
        }

        return Math.Sqrt(inside * outside);
    }

    private static List<WeibullPoint> Points(IReadOnlyList<double> failures, IReadOnlyList<double> censored)
    {
        var all = failures.Select(x => (X: x, Failed: true)).Concat(censored.Select(x => (X: x, Failed: false)))
            .OrderBy(p => p.X).ThenByDescending(p => p.Failed).ToArray();
        var points = new List<WeibullPoint>();
        double rank = 0;
        for (int i = 0; i < all.Length; i++)
        {
            if (!all[i].Failed) continue;
            rank += (all.Length + 1 - rank) / (all.Length - i + 1);
            points.Add(new WeibullPoint(all[i].X, (rank - 0.3) / (all.Length + 0.4)));
        }

        return points;
    }

    /// <summary>The likelihood, strengths being measured in the greatest of them so that no power overflows.</summary>
    private sealed class Likelihood
    {
        private readonly double[] _logs;
        private readonly int _failures;
        private readonly double _logSum;

        public Likelihood(IReadOnlyList<double> failures, IReadOnlyList<double> censored)
        {
            Unit = failures.Concat(censored).Max();
            _logs = [.. failures.Concat(censored).Select(x => Math.Log(x / Unit))];
            _failures = failures.Count;
            _logSum = _logs.Take(_failures).Sum();
        }

        public double Unit { get; }

        /// <summary>Less the derivative of the profile over the modulus, which rises through 0 at its top.</summary>
        public double ProfileSlope(double modulus)
        {
            double sum = 0, weighted = 0;
            foreach (double log in _logs)
            {
                double power = Math.Exp(modulus * log);
                sum += power;
                weighted += power * log;
            }

            return weighted / sum - 1 / modulus - _logSum / _failures;
        }

        public double ScaleAt(double modulus) => Math.Pow(_logs.Sum(log => Math.Exp(modulus * log)) / _failures, 1 / modulus);

        public double OfModulus(double modulus) => At(modulus, ScaleAt(modulus));

        /// <summary>The greatest likelihood with this scale; concave in the modulus, whose derivative is brought to 0.</summary>
        public double OfScale(double scale)
        {
            double logScale = Math.Log(scale);
            double best = Root(
                modulus =>
                {
                    double slope = _failures / modulus + _logSum - _failures * logScale;
                    foreach (double log in _logs) slope -= Math.Exp(modulus * (log - logScale)) * (log - logScale);
                    return -slope;
                },
                ModulusMin,
                ModulusMax);
            return At(best, scale);
        }

        private double At(double modulus, double scale)
        {
            double logScale = Math.Log(scale), sum = 0;
            foreach (double log in _logs) sum += Math.Exp(modulus * (log - logScale));
            return _failures * (Math.Log(modulus) - modulus * logScale) + (modulus - 1) * _logSum - sum;
        }
    }
}
