using RigDaq.Core.Questions;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>One comparison on its way: figures first, then, when all p values are known, the verdict.</summary>
internal sealed class PairComparison
{
    private readonly GroupSample _b, _a;
    private readonly TwoMeans? _means;
    private readonly string _method;
    private readonly ComparisonOptions _options;
    private readonly Interval? _ratio;

    public PairComparison(GroupSample b, GroupSample a, PooledPrints? pooled, ComparisonOptions options, List<Sentence> warnings)
    {
        (_b, _a, _options) = (b, a, options);
        (TwoMeans? means, _method) = PooledPrints.Pair(b, a, pooled);
        (string group, string reference) = (b.Name(options.SettingUnit), a.Key.Condition);
        if (means is null)
        {
            warnings.Add(CoreText.PairTooSmall(group, reference));
        }
        else if (!means.HasScatter)
        {
            warnings.Add(CoreText.PairConstant(group, reference));
        }
        else
        {
            _means = means;
            _ratio = means.RatioInterval(options.Alpha);
            if (_ratio is null && a.Mean > 0) warnings.Add(CoreText.PairPercentUnbounded(group, reference));
        }

        if (b.HasSeveralPrints != a.HasSeveralPrints) warnings.Add(CoreText.PairOfUnequalPrints(group, reference));
    }

    public double? P => _means?.P;

    public Comparison Conclude(double? adjusted, int comparisons)
    {
        double alpha = _options.Alpha;
        double? equivalence = _means?.EquivalenceP(_options.MarginPercent / 100);
        bool equivalent = equivalence < alpha, different = adjusted < alpha;
        double difference = _means?.Difference ?? _b.Mean - _a.Mean;
        double? ratio = _means is not null ? _means.Ratio : TwoMeans.RatioOf(_b.Mean, _a.Mean);
        Interval? interval = _means?.DifferenceInterval(alpha);
        var comparison = new Comparison
        {
            Material = _b.Key.Material,
            Setting = _b.Key.Setting,
            Condition = _b.Key.Condition,
            Reference = _a.Key.Condition,
            Difference = difference,
            Low = interval?.Low,
            High = interval?.High,
            Percent = 100 * (ratio - 1),
            PercentLow = 100 * (_ratio?.Low - 1),
            PercentHigh = 100 * (_ratio?.High - 1),
            T = _means?.T,
            DegreesOfFreedom = _means?.DegreesOfFreedom,
            P = P,
            PAdjusted = adjusted,
            PEquivalence = equivalence,
            Resolvable = _means?.Resolvable(alpha),
            Method = _method,
            Verdict = different ? Verdicts.Different : equivalent ? Verdicts.Equivalent : Verdicts.NotResolved,
            WithinMargin = different && equivalent,
            Sentence = "",
        };
        return comparison with
        { Sentence = VerdictSentence.Of(comparison, _b.Prints.Count, _a.Prints.Count, _a.Mean, comparisons, _options) };
    }
}
