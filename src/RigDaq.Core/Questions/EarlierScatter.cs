using RigDaq.Core.Groups;
using RigDaq.Core.Mixed;

namespace RigDaq.Core.Questions;

/// <summary>
/// How prints and stretches scatter by one's own earlier studies on this bench: one restricted maximum likelihood fit of the same model to
/// all of them, each study's groups apart, one set of components. Their uncertainty is the inverse of the expected information (Searle,
/// Casella and McCulloch, Variance Components, 1992, 6.6), so that a contrast that uses them has Satterthwaite's degrees of freedom
/// (Biometrics Bulletin 2, 110–114, 1946).
/// </summary>
internal static class EarlierScatter
{
    /// <summary>The scatter between prints and that of stretches, each null where the earlier studies do not show it.</summary>
    public static (KnownScatter? Print, KnownScatter? Stretch) Of(IReadOnlyList<EarlierStudy> earlier, ComparisonOptions options)
    {
        Observation[] all =
        [
            .. earlier.SelectMany((study, i) => study.Observations.Where(o => options.Scale == ModelScale.Identity
                || o.StrengthMegapascals > 0)
                .Select(o => o with { Group = o.Group with { Material = $"{i}/{o.Group.Material}" } })),
        ];
        if (all.Length == 0) return (null, null);
        StretchTable table = StretchTable.Of(all, options.Scale, options.SeparatePrints);
        if (table.Families.Any(f => f.Groups.Count > AnswerContext.GroupsMax) || ModelShape.For(table) is not { } shape
            || MixedModel.Fit(table, shape) is not { } model) return (null, null);
        return (Known(0, table.PrintDegrees), Known(1, table.StretchDegrees));

        KnownScatter? Known(int component, int degrees) => shape.Free[component] && degrees > 0
            ? new KnownScatter(100 * Math.Sqrt(model.Components[component]), degrees, ScatterSources.EarlierStudies)
            { VarianceOfVariance = model.VarianceOf(component) }
            : null;
    }

    /// <summary>The options with what the earlier studies show, where this table shows no scatter between prints and nobody stated
    /// it.</summary>
    public static ComparisonOptions Into(ComparisonOptions options, StretchTable table)
    {
        EarlierStudy[] giving = [.. options.Earlier.Where(study => study.GivesScatter)];
        if (options.PrintScatter is not null || table.PrintDegrees > 0 || giving.Length == 0) return options;
        (KnownScatter? print, KnownScatter? stretch) = Of(giving, options);
        return print is null ? options : options with { PrintScatter = print, StretchScatter = options.StretchScatter ?? stretch };
    }
}
