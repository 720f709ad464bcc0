using RigDaq.Core.Mixed;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>No difference at any setting: shown where every setting shows it (Berger's intersection–union test), p the greatest of
/// all.</summary>
internal static class ProfileQuestion
{
    /// <summary>Pairs of conditions, then of materials, that share two settings or more.</summary>
    public static IEnumerable<QuestionAnswer> Of(AnswerContext context)
    {
        var asked = new ContrastQuestions(context);
        foreach (SidePair pair in asked.Pairs(false).Concat(asked.Pairs(true)))
        {
            decimal?[] both = [.. asked.Both(pair).Where(s => s is not null)];
            if (both.Length < 2) continue;
            Contrast[] ratios = [.. both.Select(s => asked.Ratio(pair, s))];
            foreach (IContrasts by in context.AnswerersOf(ratios[0])) yield return Of(pair, both, ratios, by, context);
        }
    }

    private static QuestionAnswer Of(SidePair pair, decimal?[] settings, Contrast[] ratios, IContrasts by, AnswerContext context)
    {
        ComparisonOptions options = context.Options;
        QuestionAnswer identity = ContrastQuestions.Identity(QuestionNames.EquivalenceProfile, pair) with
        {
            About = by.About,
            Prints = [context.PrintsOf(context.Groups(pair.First)), context.PrintsOf(context.Groups(pair.Second))],
        };
        (string place, string first, string second) = pair.Named();
        ContrastEstimate?[] estimates = [.. ratios.Select(by.Of)];
        string margin = AnswerSentence.Margin(options);
        if (estimates.Any(e => e is null))
        {
            context.Warnings.Add(CoreText.AnswerWithoutScatter(place));
            return identity with
            {
                Sentence = CoreText.Answer(place, CoreText.AnswerProfileUnknown(first, second), AnswerSentence.Scope(identity, context))
            };
        }

        int farthest = Enumerable.Range(0, settings.Length).MaxBy(i => Math.Abs(estimates[i]!.Value.Estimate));
        QuestionAnswer worst = AnswerFinisher.WithFigures(identity, estimates[farthest], options.Alpha);
        AnswerAmount amount = AnswerAmount.Of(worst.Percent ?? 0, worst.PercentLow ?? 0, worst.PercentHigh ?? 0,
            AnswerSentence.Confidence(options), signed: true);
        double p = estimates.Max(e => AnswerFinisher.EquivalenceP(e!.Value, options));
        bool shown = p < options.Alpha;
        string at = GroupKey.SettingText(settings[farthest], options.SettingUnit);
        string statement = shown ? CoreText.AnswerProfileEquivalent(first, second, settings.Length, margin, at, amount)
            : CoreText.AnswerProfileNotShown(first, second, settings.Length, margin, at, amount);
        return identity with
        {
            PEquivalence = p,
            Verdict = shown ? Verdicts.Equivalent : Verdicts.NotResolved,
            Sentence = CoreText.Answer(place, statement, AnswerSentence.Scope(identity, context)),
        };
    }
}
