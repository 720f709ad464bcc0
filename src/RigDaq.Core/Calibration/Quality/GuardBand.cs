using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// Where the indication error decides the class by less than it is known to. The class is given by simple acceptance; within the guard band
/// of one expanded uncertainty another set of weights could decide otherwise (JCGM 106:2012 and ISO 14253-1, from memory).
/// </summary>
internal static class GuardBand
{
    public static IEnumerable<Sentence> Of(IReadOnlyList<StepFigures> steps, UncertaintyModel model, CalibrationClass? reached)
    {
        if (reached is null || ClassLimits.ByClass.FirstOrDefault(limits => limits.Class == reached.Value) is not { } limits) yield break;
        foreach (var step in steps.Where(step => step.ReferenceNewtons >= reached.FromNewtons && step.IndicationErrorPercent is not null))
        {
            double expanded =
                2 * Math.Sqrt(Math.Pow((step.ReferenceExpandedUncertaintyPercent ?? 0) / 2, 2) + Math.Pow(Scatter(step, model), 2));
            double left = limits.IndicationPercent - Math.Abs(step.IndicationErrorPercent!.Value);
            if (left < expanded) yield return CoreText.WithinGuardBand(step.ReferenceNewtons, step.IndicationErrorPercent.Value,
                limits.IndicationPercent, expanded, reached.Value);
        }
    }

    // The mean of the readings of a step and of the curve that was fitted without it, in per cent.
    private static double Scatter(StepFigures step, UncertaintyModel model)
    {
        double variance = model.ScatterVarianceSquareNewtons ?? 0;
        var fit = ForceUncertainty.Of(model, step.ReferenceNewtons).Lines.FirstOrDefault(line => line.Kind == UncertaintyKind.Fit);
        return 100 * Math.Sqrt((variance / step.RisingReadings) + Math.Pow(fit?.StandardNewtons ?? 0, 2)) / step.ReferenceNewtons;
    }
}
