using MathNet.Numerics.Distributions;
using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>What a plan can show for one kind of question.</summary>
/// <param name="Question">One of <see cref="QuestionNames"/>.</param>
/// <param name="ResolvablePercent">The smallest true effect, in per cent (points for a share), that is shown with the wanted power: a
/// difference; for "keeps" how far the truth must lie above the limit; for an equivalence the smallest margin. Null where the plan shows
/// none.</param>
/// <param name="DegreesOfFreedom">Behind it; null where there are none.</param>
/// <param name="Sentence">In words.</param>
public sealed record PlanOutlook(string Question, double? ResolvablePercent, double? DegreesOfFreedom, Sentence Sentence);

/// <summary>The outlook of a plan for every kind of question, by the same model that answers them.</summary>
public static class PlanOutlooks
{
    /// <summary>All that the plan's settings allow.</summary>
    public static IReadOnlyList<PlanOutlook> Of(PlanQuestion question, int prints, int specimens)
    {
        question.Check();
        if (prints < 1 || specimens < 1) throw new RefusalException(CoreText.PlanNeedsPrintAndSpecimen);
        double power = question.Power, first = question.FirstStepAlpha, alpha = (100 - question.ConfidencePercent) / 100;
        PlanContrast? atSetting = PlanContrast.AtASetting(question, prints, specimens),
            averaged = PlanContrast.Averaged(question, prints, specimens);
        PlanContrast? trend = PlanContrast.Trend(question, prints, specimens), dropOff = PlanContrast.DropOff(question, prints, specimens);
        PlanContrast? difference = PlanContrast.DropOffDifference(question, prints, specimens);
        var outlooks = new List<PlanOutlook>();
        Add(QuestionNames.Condition, atSetting, c => c.Resolvable(power, first));
        Add(QuestionNames.Material, atSetting, c => c.Resolvable(power, first));
        if (question.Settings > 1)
        {
            Add(QuestionNames.ConditionAverage, averaged, c => c.Resolvable(power, first));
            Add(QuestionNames.MaterialAverage, averaged, c => c.Resolvable(power, first));
            Add(QuestionNames.ConditionTrend, trend, c => c.Resolvable(power, first));
            Add(QuestionNames.DropOff, dropOff, c => c.Resolvable(power, first));
            Add(QuestionNames.DropOffDifference, difference, c => c.Resolvable(power, first));
            Add(QuestionNames.Keeps, dropOff, c => c.Above(power, alpha));

            // Against each of the others one-sided; Bonferroni is a little strict.
            Add(QuestionNames.BestSettings, dropOff, c => c.Above(power, alpha / (question.Settings - 1)));

            // Every setting must show it: each with more power, so that all together have the wanted one.
            Add(QuestionNames.EquivalenceProfile, atSetting, c => c.Margin(1 - (1 - power) / question.Settings, alpha));
        }

        Add(QuestionNames.EarlierStudy, atSetting, c => c.Resolvable(power, first));
        double points = 100 * (Normal.InvCDF(0, 1, 1 - first / 2) + Normal.InvCDF(0, 1, power)) * Math.Sqrt(0.5 / (prints * specimens));
        outlooks.Add(new PlanOutlook(QuestionNames.Share, points < 100 ? points : null, null,
            CoreText.PlanOutlook(QuestionNames.Share, Text(points < 100 ? points : null), prints)));
        return outlooks;

        void Add(string name, PlanContrast? contrast, Func<PlanContrast, double> figure)
        {
            double? percent = contrast is { } c ? figure(c) : null;
            outlooks.Add(new PlanOutlook(name, percent, contrast?.DegreesOfFreedom, CoreText.PlanOutlook(name, Text(percent), prints)));
        }
    }

    /// <summary>What two prints with half the specimens each give beside one print with all of them, in words; null where the specimens
    /// cannot be halved.</summary>
    public static Sentence? TwoPrintsForOne(PlanQuestion question, int specimens)
    {
        question.Check();
        int half = specimens / 2;
        if (half < 1 || PlanContrast.AtASetting(question, 2, half) is not { } two) return null;
        double one = Math.Sqrt(2 * (Squared(question.BetweenPrintVariationPercent) + Squared(question.StretchVariationPercent)
            + Squared(question.WithinPrintVariationPercent) / specimens));
        return CoreText.PlanTwoPrintsForOne(specimens, half, Text(1.96 * one)!, Text(1.96 * two.StandardErrorPercent)!,
            Text(two.Resolvable(question.Power, question.FirstStepAlpha))!);
    }

    private static string? Text(double? percent) => percent is { } value ? NumberText.Of(value, NumberText.Decimals(value)) : null;

    private static double Squared(double value) => value * value;
}
