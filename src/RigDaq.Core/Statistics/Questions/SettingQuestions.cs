using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics.Mixed;
using RigDaq.Core.Text;

namespace RigDaq.Core.Statistics.Questions;

/// <summary>Questions about the settings of one material and condition that control their own error: how far strength keeps, and which settings are strongest.</summary>
internal sealed class SettingQuestions(AnswerContext context)
{
    private readonly ContrastQuestions _asked = new(context);
    private readonly ComparisonOptions _options = context.Options;

    /// <summary>
    /// The farthest setting that keeps so many per cent: one-sided tests in fixed order from the reference on, stopped at the first that fails (Hsu and Berger,
    /// JASA 94, 468–482, 1999). Where the reference stands in the middle, upwards and downwards at half the level each.
    /// </summary>
    public IEnumerable<QuestionAnswer> Keeps()
    {
        foreach (Side side in _asked.Families())
        {
            decimal[] settings = [.. _asked.Numbered(side)];
            if (settings.Length == 0 || _asked.ReferenceSetting(side.Material) is not { } reference) continue;
            decimal[] up = [.. settings.Where(s => s > reference)], down = [.. settings.Where(s => s < reference).Reverse()];
            if (!settings.Contains(reference))
            {
                context.Warnings.Add(CoreText.AnswerReferenceSettingAbsent(side.Material, side.Condition, GroupKey.SettingText(reference, _options.SettingUnit)));
                continue;
            }

            bool bothWays = up.Length > 0 && down.Length > 0;
            foreach (var (way, form) in new[] { (up, TrendForms.Up), (down, TrendForms.Down) })
            {
                if (way.Length == 0) continue;
                foreach (IContrasts by in context.AnswerersOf(_asked.Ratio(side, way[0], reference)))
                    yield return Kept(side, reference, way, form, by, bothWays ? _options.Alpha / 2 : _options.Alpha);
            }
        }
    }

    /// <summary>Each setting against the best other (Hsu's multiple comparisons with the best): which cannot be told from the strongest.</summary>
    public IEnumerable<QuestionAnswer> Best()
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

    private QuestionAnswer Kept(Side side, decimal reference, decimal[] way, string form, IContrasts by, double alpha)
    {
        var answer = new QuestionAnswer
        {
            Question = QuestionNames.Keeps,
            Material = side.Material,
            Condition = side.Condition,
            AgainstSetting = reference,
            Form = form,
            About = by.About,
            Verdict = QuestionVerdicts.NotShown,
            Prints = [context.PrintsOf(context.Groups(side))],
        };
        double limit = Math.Log(_options.KeepsPercent / 100);
        (decimal Setting, double Percent, double Low)? failed = null;
        foreach (decimal setting in way)
        {
            if (by.Of(_asked.Ratio(side, setting, reference)) is not { } e)
            {
                context.Warnings.Add(CoreText.AnswerWithoutScatter(new GroupKey(side.Material, side.Condition, setting).Describe(_options.SettingUnit)));
                break;
            }

            double low = e.Estimate - StudentT.UpperQuantile(alpha, e.DegreesOfFreedom) * e.StandardError;
            if (AnswerFinisher.Percent(e.Estimate) is null || AnswerFinisher.Percent(low) is null) break;
            if (!(low > limit))
            {
                failed = (setting, 100 * Math.Exp(e.Estimate), 100 * Math.Exp(low));
                break;
            }

            answer = answer with
            {
                Setting = setting,
                Percent = AnswerFinisher.Percent(e.Estimate),
                PercentLow = AnswerFinisher.Percent(low),
                LogEstimate = e.Estimate,
                LogStandardError = e.StandardError,
                DegreesOfFreedom = e.DegreesOfFreedom,
                P = StudentT.UpperTail((e.Estimate - limit) / e.StandardError, e.DegreesOfFreedom),
                Verdict = QuestionVerdicts.Kept,
            };
        }

        return answer with { Sentence = Sentence(answer, failed, 100 * (1 - alpha)) };
    }

    private string Sentence(QuestionAnswer answer, (decimal Setting, double Percent, double Low)? failed, double confidence)
    {
        string keeps = NumberText.Of(_options.KeepsPercent, _options.KeepsPercent % 1 == 0 ? 0 : 1), from = Text(answer.AgainstSetting);
        string sure = NumberText.Of(confidence, confidence % 1 == 0 ? 0 : 1), statement;
        if (answer.Setting is { } kept)
        {
            (string value, string low) = Figures(100 + answer.Percent!.Value, 100 + answer.PercentLow!.Value);
            statement = CoreText.AnswerKept(keeps, from, Text(kept), value, low, sure);
            if (failed is { } next) statement += CoreText.AnswerKeptNoFarther(Text(next.Setting));
        }
        else
        {
            (string value, string low) = failed is { } first ? Figures(first.Percent, first.Low) : ("", "");
            statement = failed is { } f ? CoreText.AnswerNotKept(keeps, from, Text(f.Setting), value, low, sure) : CoreText.AnswerKeepsUnknown(keeps, from);
        }

        return CoreText.Answer(AnswerSentence.Place(answer, _options), statement, AnswerSentence.Scope(answer, context));

        static (string, string) Figures(double value, double low)
        {
            int decimals = NumberText.Decimals(value - low);
            return (NumberText.Of(value, decimals), NumberText.Of(low, decimals));
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
            return identity with { Sentence = CoreText.Answer(place, CoreText.AnswerBestUnknown(Text(setting)), AnswerSentence.Scope(identity, context)) };
        }

        int best = Enumerable.Range(0, others.Length).MaxBy(i => estimates[i]!.Value.Estimate);
        double greatest = estimates.Max(e => e!.Value.Estimate / e.Value.StandardError), degrees = estimates.Min(e => e!.Value.DegreesOfFreedom);
        double p = MultivariateT.UpperTailOfGreatest(greatest, Simultaneous.Correlations(contrasts, by), Math.Max(1, degrees));
        ContrastEstimate against = estimates[best]!.Value;
        QuestionAnswer answer = AnswerFinisher.WithFigures(identity with { AgainstSetting = others[best] }, against with { Estimate = -against.Estimate }, _options.Alpha) with
        {
            P = p,
            Verdict = p < _options.Alpha ? QuestionVerdicts.NotAmongTheBest : QuestionVerdicts.AmongTheBest,
        };
        AnswerAmount amount = AnswerAmount.Of(answer.Percent ?? 0, answer.PercentLow ?? 0, answer.PercentHigh ?? 0, AnswerSentence.Confidence(_options), signed: true);
        string statement = answer.Verdict == QuestionVerdicts.AmongTheBest
            ? CoreText.AnswerAmongTheBest(Text(setting), Text(others[best]), amount)
            : CoreText.AnswerNotAmongTheBest(Text(setting), Text(others[best]), amount);
        return answer with { Sentence = CoreText.Answer(place, statement, AnswerSentence.Scope(answer, context)) };
    }

    private string Text(decimal? setting) => GroupKey.SettingText(setting, _options.SettingUnit);
}
