using MathNet.Numerics.Distributions;

namespace RigDaq.Core.Statistics;

/// <summary>A share of counted things, with so many independent ones that they are worth.</summary>
/// <param name="Share">0 to 1.</param>
/// <param name="EffectiveN">How many independent things the count is worth, above 0.</param>
public readonly record struct Proportion(double Share, double EffectiveN)
{
    /// <summary>Counted things of one print, or of several: n is divided by the design effect, at least 1 (Rao and Scott 1992), because
    /// things of one print share its fate.</summary>
    /// <param name="prints">Of each print: how many did, of how many.</param>
    public static Proportion Of(IReadOnlyList<(int Count, int Total)> prints)
    {
        double count = prints.Sum(p => p.Count), total = prints.Sum(p => p.Total), share = count / total;
        double binomial = share * (1 - share) / total;
        if (prints.Count < 2 || binomial <= 0) return new Proportion(share, total);
        double between = prints.Sum(p => Math.Pow(p.Count - p.Total * share, 2)) * prints.Count / (prints.Count - 1) / total / total;
        return new Proportion(share, total / Math.Max(1, between / binomial));
    }

    /// <summary>Wilson's score interval (JASA 22, 1927), as shares.</summary>
    /// <param name="alpha">What is missing to 1.</param>
    public Interval Wilson(double alpha)
    {
        double z = Normal.InvCDF(0, 1, 1 - alpha / 2), n = EffectiveN, centre = Share + z * z / (2 * n);
        double half = z * Math.Sqrt(Share * (1 - Share) / n + z * z / (4 * n * n)), below = 1 + z * z / n;
        return new Interval(Share == 0 ? 0 : Math.Max(0, (centre - half) / below), Share == 1 ? 1 : Math.Min(1, (centre + half) / below));
    }

    /// <summary>Newcombe's interval of first − second by both Wilson intervals (Statistics in Medicine 17, 873–890, 1998, method 10), as
    /// shares.</summary>
    public static Interval Newcombe(Proportion first, Proportion second, double alpha)
    {
        Interval a = first.Wilson(alpha), b = second.Wilson(alpha);
        double difference = first.Share - second.Share;
        return new Interval(difference - Math.Sqrt(Math.Pow(first.Share - a.Low, 2) + Math.Pow(b.High - second.Share, 2)),
            difference + Math.Sqrt(Math.Pow(a.High - first.Share, 2) + Math.Pow(second.Share - b.Low, 2)));
    }

    /// <summary>The trend of shares over scores (Cochran 1954, Armitage 1955): two-sided p; null where all did or none. Of two it is the
    /// score test of their difference.</summary>
    public static double? TrendP(IReadOnlyList<(double Score, Proportion Of)> shares)
    {
        double total = shares.Sum(s => s.Of.EffectiveN), pooled = shares.Sum(s => s.Of.EffectiveN * s.Of.Share) / total;
        double centre = shares.Sum(s => s.Of.EffectiveN * s.Score) / total;
        double along = shares.Sum(s => s.Of.EffectiveN * (s.Of.Share - pooled) * (s.Score - centre));
        double variance = pooled * (1 - pooled) * shares.Sum(s => s.Of.EffectiveN * Math.Pow(s.Score - centre, 2));
        return variance > 0 ? Math.Min(1, 2 * Normal.CDF(0, 1, -Math.Abs(along) / Math.Sqrt(variance))) : null;
    }
}
