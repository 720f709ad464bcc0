using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>The limits of the classes (ISO 7500-1, from memory; OIML R 65 publishes the same figures), and the rule that gives
/// one.</summary>
public static class ClassLimits
{
    /// <summary>A reference's expanded uncertainty above this gives no class, in per cent (from memory: the limit for masses).</summary>
    public const double ReferenceExpandedPercentMax = 0.1;

    /// <summary>Steps that are needed over 20 to 100 % of the range.</summary>
    public const int StepsMin = 5;

    /// <summary>Where the range that counts begins, as a share of the greatest force.</summary>
    public const double RangeShare = 0.2;

    // Real weights miss their nominal value: a step at 19.99 % of the greatest force counts as one at 20 %.
    private const double RangeTolerance = 0.002;

    private static readonly Limits[] All =
    [
        new(0.5, 0.5, 0.5, 0.75, 0.05, 0.25),
        new(1, 1, 1, 1.5, 0.1, 0.5),
        new(2, 2, 2, 3, 0.2, 1),
        new(3, 3, 3, 4.5, 0.3, 1.5),
    ];

    /// <summary>The limits by class, all in per cent.</summary>
    public static IReadOnlyList<Limits> ByClass => All;

    /// <summary>The best class that every step from 20 % of the greatest force up meets, with how far down it reaches.</summary>
    /// <param name="steps">Rising in force.</param>
    /// <param name="zeroErrorPercent">f0, if known.</param>
    /// <param name="whyNot">What stands against a class; null where there is one.</param>
    public static CalibrationClass? Of(IReadOnlyList<StepFigures> steps, double? zeroErrorPercent, out Sentence? whyNot)
    {
        double greatest = steps[^1].ReferenceNewtons;
        var upper = steps.Where(step => step.ReferenceNewtons >= (RangeShare - RangeTolerance) * greatest).ToList();
        whyNot = null;
        if (upper.Count < StepsMin)
        {
            whyNot = CoreText.ClassOfTooFewSteps(upper.Count, StepsMin);
            return null;
        }

        if (upper.Find(step => step.ReferenceExpandedUncertaintyPercent > ReferenceExpandedPercentMax) is { } coarse)
        {
            whyNot = CoreText.ClassOfCoarseReference(coarse.ReferenceNewtons, coarse.ReferenceExpandedUncertaintyPercent);
            return null;
        }

        if (upper.Find(step => step.RepeatabilityPercent is null) is { } single)
        {
            whyNot = CoreText.ClassOfOneSeries(single.ReferenceNewtons);
            return null;
        }

        foreach (var limits in All)
        {
            if (!limits.MetBy(zeroErrorPercent) || !upper.TrueForAll(limits.MetBy)) continue;
            double from = greatest;
            for (int i = steps.Count - 1; i >= 0 && limits.MetBy(steps[i]); i--) from = steps[i].ReferenceNewtons;
            return new CalibrationClass(limits.Class, from, greatest);
        }

        whyNot = CoreText.ClassNotReached;
        return null;
    }

    /// <summary>One class's limits, all in per cent; amounts.</summary>
    /// <param name="Class">The class.</param>
    /// <param name="IndicationPercent">q.</param>
    /// <param name="RepeatabilityPercent">b.</param>
    /// <param name="ReversibilityPercent">v.</param>
    /// <param name="ZeroPercent">f0.</param>
    /// <param name="ResolutionPercent">a.</param>
    public sealed record Limits(double Class, double IndicationPercent, double RepeatabilityPercent, double ReversibilityPercent,
        double ZeroPercent, double ResolutionPercent)
    {
        /// <summary>Whether a zero error meets it; one that is not known does not stand against it.</summary>
        public bool MetBy(double? zeroErrorPercent) => zeroErrorPercent is not { } zero || Math.Abs(zero) <= ZeroPercent;

        /// <summary>Whether a step meets it. A reversibility that is not known does not stand against it; a warning says so.</summary>
        public bool MetBy(StepFigures step) =>
            step.IndicationErrorPercent is { } q && Math.Abs(q) <= IndicationPercent
            && step.RepeatabilityPercent is { } b && b <= RepeatabilityPercent
            && (step.ReversibilityPercent is not { } v || Math.Abs(v) <= ReversibilityPercent)
            && step.ResolutionPercent <= ResolutionPercent
            && !(step.ReferenceExpandedUncertaintyPercent > ReferenceExpandedPercentMax);
    }
}
