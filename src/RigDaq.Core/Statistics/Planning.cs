using RigDaq.Core.Quantities;
using RigDaq.Core.Text;

namespace RigDaq.Core.Statistics;

/// <summary>What a study is planned to tell apart, and what scatter is expected.</summary>
public sealed record PlanQuestion
{
    /// <summary>The standard deviation of specimens within a print, in per cent of the mean, above 0.</summary>
    public required double WithinPrintVariationPercent { get; init; }

    /// <summary>The standard deviation of true print means, in per cent of the mean, 0 or more.</summary>
    public double BetweenPrintVariationPercent { get; init; }

    /// <summary>The standard deviation of a stretch beyond its print, in per cent of the mean, 0 or more.</summary>
    public double StretchVariationPercent { get; init; }

    /// <summary>Settings that every print holds, 1 or more; groups are material × condition × setting.</summary>
    public int Settings { get; init; } = 1;

    /// <summary>Groups in the study, 2 or more: prints of all of them share one estimate of the variance between prints.</summary>
    public int Groups { get; init; } = 2;

    /// <summary>Planned comparisons, 1 or more. Holm's first step tests at α over this number; later steps are milder.</summary>
    public int Comparisons { get; init; } = 1;

    /// <summary>The confidence of intervals in per cent; α is what is missing to 100.</summary>
    public double ConfidencePercent { get; init; } = 95;

    /// <summary>The chance that the difference is called different.</summary>
    public double Power { get; init; } = Planning.Power;

    /// <summary>The level of Holm's first step.</summary>
    public double FirstStepAlpha => (100 - ConfidencePercent) / 100 / Comparisons;

    /// <summary>Refuses figures that mean nothing.</summary>
    /// <exception cref="RefusalException">Which figure, and what was expected.</exception>
    public void Check()
    {
        if (!(WithinPrintVariationPercent > 0 && WithinPrintVariationPercent <= 1000))
            throw new RefusalException(CoreText.WithinPrintScatterNotPossible);
        if (!(BetweenPrintVariationPercent is >= 0 and <= 1000)) throw new RefusalException(CoreText.BetweenPrintScatterNotPossible);
        if (!(StretchVariationPercent is >= 0 and <= 1000)) throw new RefusalException(CoreText.StretchScatterNotPossible);
        if (Settings < 1 || Groups % Settings != 0) throw new RefusalException(CoreText.PlanSettingsNotPossible);
        if (Groups < 2) throw new RefusalException(CoreText.PlanNeedsTwoGroups);
        if (Comparisons < 1) throw new RefusalException(CoreText.PlanNeedsComparison);
        if (!(ConfidencePercent > 50 && ConfidencePercent < 100)) throw new RefusalException(CoreText.ConfidenceNotPossible);
        if (!(Power > 0.5 && Power < 1)) throw new RefusalException(CoreText.PowerNotPossible);
    }
}

/// <summary>How many specimens and prints a question needs, and what a planned number answers.</summary>
public static class Planning
{
    /// <summary>The power that "resolvable" stands for: four cases of five.</summary>
    public const double Power = 0.8;

    /// <summary>The most specimens in a print, and the most prints in a group, that a plan may ask for.</summary>
    public const int CountMax = 1000;

    /// <summary>The smallest true difference, in per cent of the mean, that a plan calls different with the wanted power; null where it
    /// cannot call any. With one print a group it concerns those prints only, and the scatter between prints does not enter.</summary>
    /// <param name="question">What is expected.</param>
    /// <param name="prints">Prints a group, 1 or more.</param>
    /// <param name="specimens">Specimens a print, 1 or more.</param>
    public static double? ResolvablePercent(PlanQuestion question, int prints, int specimens)
    {
        question.Check();
        if (prints < 1 || specimens < 1) throw new RefusalException(CoreText.PlanNeedsPrintAndSpecimen);
        PlanContrast? contrast = PlanContrast.AtASetting(question, prints, specimens);
        return contrast?.Resolvable(question.Power, question.FirstStepAlpha);
    }

    /// <summary>The fewest specimens a print that resolve a difference with this many prints a group; null where <see cref="CountMax"/> do
    /// not.</summary>
    /// <param name="question">What is expected.</param>
    /// <param name="prints">Prints a group.</param>
    /// <param name="differencePercent">The wanted resolution in per cent of the mean, above 0.</param>
    public static int? SpecimensFor(PlanQuestion question, int prints, double differencePercent)
    {
        if (!(differencePercent > 0)) throw new RefusalException(CoreText.ResolutionNotPossible);
        return Fewest(specimens => ResolvablePercent(question, prints, specimens) <= differencePercent);
    }

    /// <summary>The fewest prints a group that resolve a difference with this many specimens a print; null where <see cref="CountMax"/> do
    /// not.</summary>
    public static int? PrintsFor(PlanQuestion question, int specimens, double differencePercent)
    {
        if (!(differencePercent > 0)) throw new RefusalException(CoreText.ResolutionNotPossible);
        int? prints = Fewest(count => ResolvablePercent(question, count + 1, specimens) <= differencePercent);
        return prints + 1;
    }

    /// <summary>What a plan resolves, as a sentence.</summary>
    public static string Describe(PlanQuestion question, int prints, int specimens)
    {
        double? percent = ResolvablePercent(question, prints, specimens);
        if (percent is not { } value) return CoreText.PlanTellsNothing(prints, specimens);
        return CoreText.PlanResolves(prints, specimens, NumberText.Of(value, NumberText.Decimals(value)), question.Comparisons,
            NumberText.Of(100 * question.Power, 0));
    }

    private static int? Fewest(Func<int, bool> enough)
    {
        if (!enough(CountMax)) return null;
        int low = 0, high = CountMax;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            if (enough(middle)) high = middle;
            else low = middle;
        }

        return high;
    }
}
