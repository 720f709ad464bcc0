using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>What was assumed where nothing was entered, and what entering it would gain at the greatest reference.</summary>
internal static class AssumptionAdvice
{
    /// <summary>A gain below this share of the uncertainty is not worth a sentence.</summary>
    private const double GainMin = 0.1;

    public static IEnumerable<Sentence> Of(UncertaintyModel model)
    {
        var whole = ForceUncertainty.Of(model, model.GreatestReferenceNewtons);
        if (whole.ExpandedNewtons is not { } expanded) yield break;
        foreach (var kind in whole.Lines.Where(line => line.IsAssumed).Select(line => line.Kind).Distinct())
        {
            double without = whole.ExpandedWithoutNewtons(kind)!.Value;
            if (expanded - without >= GainMin * expanded)
                yield return CoreText.AssumptionGain(Advice(kind, model.Inputs), model.GreatestReferenceNewtons,
                    100 * expanded / whole.ForceNewtons, 100 * without / whole.ForceNewtons);
        }
    }

    private static Sentence Advice(UncertaintyKind kind, UncertaintyInputs inputs) => kind switch
    {
        UncertaintyKind.Temperature => CoreText.EnterTemperature(ForceBudget.TemperatureAssumed(inputs)),
        UncertaintyKind.ZeroDrift => CoreText.ReadZeroAfterwards(CoreText.ForceZeroDriftAssumed(ForceUncertainty.AssumedZeroDriftPercent)),
        _ => CoreText.EnterNonLinearity(CoreText.ForceNonLinearityAssumed(ForceUncertainty.AssumedNonLinearityInsidePercent)),
    };
}
