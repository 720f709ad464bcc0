namespace RigDaq.Core.Statistics;

/// <summary>
/// The standard error that a planned contrast will have, in per cent of strength, and its degrees of freedom. In the balanced design every
/// print holds all k settings: a print's mean has variance A = σ_p² + τ²/k on families·(prints − 1) degrees of freedom, a stretch beyond
/// its print τ² = σ_ps² + σ²/n on families·(prints − 1)·(k − 1); what mixes both has Satterthwaite's. With one print the specimens alone
/// are seen, and the answer concerns that print.
/// </summary>
/// <param name="StandardErrorPercent">Of the contrast.</param>
/// <param name="DegreesOfFreedom">1 or more.</param>
public readonly record struct PlanContrast(double StandardErrorPercent, double DegreesOfFreedom)
{
    /// <summary>Two groups at one setting.</summary>
    public static PlanContrast? AtASetting(PlanQuestion question, int prints, int specimens)
    {
        double k = question.Settings;
        return Of(question, prints, specimens, 2, 2 * (k - 1) / k, 1 / k, 2);
    }

    /// <summary>Two groups averaged over all settings.</summary>
    public static PlanContrast? Averaged(PlanQuestion question, int prints, int specimens) =>
        Of(question, prints, specimens, 2, 0, 1.0 / question.Settings, 2.0 * question.Settings);

    /// <summary>How a difference changes from the first to the last of evenly spaced settings, by a straight line.</summary>
    public static PlanContrast? Trend(PlanQuestion question, int prints, int specimens)
    {
        if (question.Settings < 2) return null;
        double[] x = [.. Enumerable.Range(0, question.Settings).Select(i => i / (question.Settings - 1.0) - 0.5)];
        return Of(question, prints, specimens, 0, 2 / x.Sum(v => v * v), 0, 2.0 * question.Settings);
    }

    /// <summary>One setting against another on the same prints.</summary>
    public static PlanContrast? DropOff(PlanQuestion question, int prints, int specimens) => question.Settings < 2 ? null
        : Of(question, prints, specimens, 0, 2, 0, 2);

    /// <summary>Two such drop-offs against each other.</summary>
    public static PlanContrast? DropOffDifference(PlanQuestion question, int prints, int specimens) =>
        question.Settings < 2 ? null : Of(question, prints, specimens, 0, 4, 0, 4);

    /// <summary>The smallest true difference, in per cent, that is called different with this power at α, two-sided.</summary>
    public double Resolvable(double power, double alpha) =>
        StandardErrorPercent * NoncentralT.NoncentralityFor(power, DegreesOfFreedom, alpha);

    /// <summary>The smallest margin, in per cent, within which equals are shown to be equal with this power at α.</summary>
    public double Margin(double power, double alpha) =>
        StandardErrorPercent
            * (StudentT.UpperQuantile(alpha, DegreesOfFreedom) + StudentT.UpperQuantile((1 - power) / 2, DegreesOfFreedom));

    /// <summary>By how many per cent the truth must lie above a limit to be shown to with this power at α, one-sided.</summary>
    public double Above(double power, double alpha)
    {
        double critical = StudentT.UpperQuantile(alpha, DegreesOfFreedom), low = 0, high = 1;
        while (NoncentralT.UpperTail(critical, DegreesOfFreedom, high) < power) high *= 2;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            if (NoncentralT.UpperTail(critical, DegreesOfFreedom, middle) < power) low = middle;
            else high = middle;
        }

        return StandardErrorPercent * high;
    }

    /// <summary>Weights of A and of τ² in the variance times prints; for one print the share that specimens of all its stretches have, and
    /// the stretches they come from.</summary>
    private static PlanContrast? Of(PlanQuestion question, int prints, int specimens, double ofPrint, double ofStretch, double printShare,
        double stretches)
    {
        double k = question.Settings, specimen = Square(question.WithinPrintVariationPercent) / specimens;
        if (prints == 1)
        {
            double degrees = stretches * (specimens - 1);
            double variance = ofPrint * specimen * printShare + ofStretch * specimen;
            return degrees < 1 ? null : new PlanContrast(Math.Sqrt(variance), degrees);
        }

        double stretch = Square(question.StretchVariationPercent) + specimen;
        double a = ofPrint * (Square(question.BetweenPrintVariationPercent) + stretch / k) / prints, b = ofStretch * stretch / prints;
        double freePrints = question.Groups / k * (prints - 1), freeStretches = freePrints * (k - 1);
        double total = a + b, free = Square(total) / ((a > 0 ? Square(a) / freePrints : 0) + (b > 0 ? Square(b) / freeStretches : 0));
        return free < 1 ? null : new PlanContrast(Math.Sqrt(total), free);
    }

    private static double Square(double value) => value * value;
}
