using RigDaq.Core.Mixed;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>Which settings of one material and condition may be the strongest. The question controls its own error.</summary>
internal sealed class BestSettingsQuestion(AnswerContext context)
{
    private readonly ContrastQuestions _asked = new(context);
    private readonly ComparisonOptions _options = context.Options;

    /// <summary>Each setting against the best other (Hsu's multiple comparisons with the best): which may be the strongest.</summary>
    public IEnumerable<QuestionAnswer> All()
    {
        foreach (Side side in _asked.Families())
        {
            decimal[] settings = [.. _asked.Numbered(side)];
            if (settings.Length < 2) continue;
            foreach (IContrasts by in context.AnswerersOf(_asked.Ratio(side, settings[1], settings[0])))
            {
                foreach (decimal setting in settings) yield return Best(side, setting, [.. settings.Where(s => s != setting)], by);
            }
        }
    }

    private QuestionAnswer Best(Side side, decimal setting, decimal[] others, IContrasts by)
    {
        var identity = new QuestionAnswer
        {
            Question = QuestionNames.BestSettings,
            Material = side.Material,
            Condition = side.Condition,
            Setting = setting,
            About = by.About,
            Prints = [context.PrintsOf(context.Groups(side))],
        };
        string place = AnswerSentence.Place(identity, _options);
        Contrast[] contrasts = [.. others.Select(other => _asked.Ratio(side, other, setting))];
        ContrastEstimate?[] estimates = [.. contrasts.Select(by.Of)];
        if (estimates.Any(e => e is null))
        {
            context.Warnings.Add(CoreText.AnswerWithoutScatter(place));
            return identity with
            { Sentence = CoreText.Answer(place, CoreText.AnswerBestUnknown(Text(setting)), AnswerSentence.Scope(identity, context)) };
        }

        int best = Enumerable.Range(0, others.Length).MaxBy(i => estimates[i]!.Value.Estimate);
        double greatest = estimates.Max(e => e!.Value.Estimate / e.Value.StandardError),
            degrees = estimates.Min(e => e!.Value.DegreesOfFreedom);
        double p = MultivariateT.UpperTailOfGreatest(greatest, Simultaneous.Correlations(contrasts, by), Math.Max(1, degrees));
        ContrastEstimate against = estimates[best]!.Value;
        QuestionAnswer answer = AnswerFinisher.WithFigures(identity with { AgainstSetting = others[best] },
            against with { Estimate = -against.Estimate }, _options.Alpha) with
        {
            P = p,
            Verdict = p < _options.Alpha ? QuestionVerdicts.NotAmongTheBest : QuestionVerdicts.AmongTheBest,
        };
        AnswerAmount amount = AnswerAmount.Of(answer.Percent ?? 0, answer.PercentLow ?? 0, answer.PercentHigh ?? 0,
            AnswerSentence.Confidence(_options), signed: true);
        string statement = answer.Verdict == QuestionVerdicts.AmongTheBest ? CoreText.AnswerAmongTheBest(Text(setting), Text(others[best]),
            amount) : CoreText.AnswerNotAmongTheBest(Text(setting), Text(others[best]), amount);
        return answer with { Sentence = CoreText.Answer(place, statement, AnswerSentence.Scope(answer, context)) };
    }

    private string Text(decimal? setting) => GroupKey.SettingText(setting, _options.SettingUnit);
}
