using RigDaq.Core.Mixed;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Questions;

/// <summary>The joint distribution of contrasts that share one estimate of scatter: Dunnett's adjustment where materials are set against
/// one, and Hsu's comparisons with the best. Correlations are the model's, the degrees of freedom the family's smallest.</summary>
internal static class Simultaneous
{
    /// <summary>Beyond so many contrasts Holm's adjustment stands in: it is milder to the machine and stricter to the claim.</summary>
    public const int ContrastsMax = 60;

    /// <summary>Below this Bonferroni's bound and the exact figure are the same for any purpose.</summary>
    private const double NoMatter = 1e-7;

    /// <summary>The adjusted p of each draft; a draft without figures has none.</summary>
    public static IReadOnlyList<double?> Adjust(Drafted[] drafts, List<Sentence> warnings)
    {
        int[] estimated = [.. Enumerable.Range(0, drafts.Length).Where(i => drafts[i].Estimate is not null)];
        if (estimated.Length > ContrastsMax)
        {
            warnings.Add(CoreText.AnswerDunnettTooMany(ContrastsMax));
            return Holm.Adjust([.. drafts.Select(d => d.P)]);
        }

        var adjusted = new double?[drafts.Length];
        if (estimated.Length == 0) return adjusted;
        ContrastEstimate[] estimates = [.. estimated.Select(i => drafts[i].Estimate!.Value)];
        double[,] correlations = Correlations([.. estimated.Select(i => drafts[i].Asked.Contrast)], drafts[estimated[0]].By);
        double degrees = estimates.Min(e => e.DegreesOfFreedom);
        for (int k = 0; k < estimated.Length; k++)
        {
            double t = Math.Abs(estimates[k].Estimate / estimates[k].StandardError), alone = StudentT.TwoSidedTail(t, degrees);
            adjusted[estimated[k]] = estimated.Length * alone < NoMatter ? estimated.Length * alone
                : MultivariateT.TwoSidedTailOfGreatest(t, correlations, Math.Max(1, degrees));
        }

        return adjusted;
    }

    /// <summary>Correlations of contrasts.</summary>
    public static double[,] Correlations(IReadOnlyList<Contrast> contrasts, IContrasts by)
    {
        int n = contrasts.Count;
        double[] deviations = [.. contrasts.Select(c => Math.Sqrt(by.Covariance(c, c)))];
        var correlations = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            correlations[i, i] = 1;
            for (int j = 0; j < i; j++)
                correlations[i, j] = correlations[j, i] =
                Math.Clamp(by.Covariance(contrasts[i], contrasts[j]) / deviations[i] / deviations[j], -1, 1);
        }

        return correlations;
    }
}
