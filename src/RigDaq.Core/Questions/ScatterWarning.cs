using MathNet.Numerics.Distributions;
using RigDaq.Core.Mixed;
using RigDaq.Core.Quantities;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>Groups whose specimens scatter unequally, where a model takes one scatter for all.</summary>
internal static class ScatterWarning
{
    /// <summary>Standard deviations on the logarithm beyond this ratio are unlike.</summary>
    public const double RatioMax = 2;

    /// <summary>Below so many specimens a ratio alone says little; chance must be unlikely too.</summary>
    private const int FewSpecimens = 5;

    private const double ChanceBelow = 0.05;

    /// <summary>Whether any two of these groups are unlike.</summary>
    public static bool AreUnlike(StretchTable table, IEnumerable<int> groups)
    {
        Scatter[] all = [.. groups.Distinct().Select(table.ScatterOf).Where(s => s.Degrees > 0)];
        return all.Length > 1 && Unlike(all.MaxBy(s => s.Variance), all.MinBy(s => s.Variance));
    }

    /// <summary>Warns of the two farthest apart.</summary>
    public static void Add(AnswerContext context)
    {
        if (context.Model is null) return;
        (int Group, Scatter Scatter)[] all = [.. Enumerable.Range(0, context.Table.Groups.Count)
            .Select(g => (g, context.Table.ScatterOf(g))).Where(s => s.Item2.Degrees > 0)];
        if (all.Length < 2) return;
        (int widest, Scatter most) = all.MaxBy(s => s.Scatter.Variance);
        (int narrowest, Scatter least) = all.MinBy(s => s.Scatter.Variance);
        if (!Unlike(most, least)) return;
        string unit = context.Options.SettingUnit;
        if (least.Variance == 0)
        {
            context.Warnings.Add(CoreText.AnswerGroupWithoutScatter(context.Table.Groups[narrowest].Describe(unit),
                context.Table.Groups[widest].Describe(unit)));
            return;
        }

        context.Warnings.Add(CoreText.AnswerUnequalScatter(
            context.Table.Groups[widest].Describe(unit), context.Table.Groups[narrowest].Describe(unit),
                NumberText.Of(Math.Sqrt(most.Variance / least.Variance), 1)));
    }

    private static bool Unlike(Scatter most, Scatter least)
    {
        double ratio = most.Variance / least.Variance;
        if (!(ratio > RatioMax * RatioMax)) return false;
        bool few = most.Specimens < FewSpecimens || least.Specimens < FewSpecimens;
        return !few || 2 * (1 - FisherSnedecor.CDF(most.Degrees, least.Degrees, ratio)) < ChanceBelow;
    }
}
