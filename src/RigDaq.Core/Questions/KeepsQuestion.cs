using RigDaq.Core.Mixed;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>
/// The farthest setting that keeps so many per cent of the reference setting's strength: one-sided tests in fixed order from the reference
/// on, stopped at the first that fails (Hsu and Berger, JASA 94, 468–482, 1999). Where the reference stands in the middle, upwards and
/// downwards at half the level each, in one answer: whatever it claims is wrong in at most α of studies. The question controls its own
/// error.
/// </summary>
internal sealed class KeepsQuestion(AnswerContext context)
{
    private readonly ContrastQuestions _asked = new(context);
    private readonly ComparisonOptions _options = context.Options;

    /// <summary>One answer for each material and condition, and for each of whom it is about.</summary>
    public IEnumerable<QuestionAnswer> All()
    {
        foreach (Side side in _asked.Families())
        {
            decimal[] settings = [.. _asked.Numbered(side)];
            if (settings.Length == 0 || _asked.ReferenceSetting(side.Material) is not { } reference) continue;
            if (!settings.Contains(reference))
            {
                context.Warnings.Add(CoreText.AnswerReferenceSettingAbsent(side.Material, side.Condition, Text(reference)));
                yield return _asked.WithoutReference(QuestionNames.Keeps, side, null, reference);
                continue;
            }

            (decimal[] Settings, string Form)[] ways =
            [
                .. new[] { (settings.Where(s => s > reference).ToArray(), TrendForms.Up),
                    (settings.Where(s => s < reference).Reverse().ToArray(), TrendForms.Down) }
                    .Where(way => way.Item1.Length > 0),
            ];
            double alpha = ways.Length == 2 ? _options.Alpha / 2 : _options.Alpha;
            foreach (IContrasts by in ways.SelectMany(way => context.AnswerersOf(_asked.Ratio(side, way.Settings[0], reference)))
                .DistinctBy(by => by.About))
                yield return Answer(side, reference, [.. ways.Select(way => Walk(side, reference, way.Settings, way.Form, by, alpha))], by,
                    alpha);
        }
    }

    private WayKept Walk(Side side, decimal reference, decimal[] settings, string form, IContrasts by, double alpha)
    {
        double limit = Math.Log(_options.KeepsPercent / 100);
        Step? kept = null;
        foreach (decimal setting in settings)
        {
            if (by.Of(_asked.Ratio(side, setting, reference)) is not { } e)
            {
                context.Warnings
                    .Add(CoreText.AnswerWithoutScatter(new GroupKey(side.Material, side.Condition, setting)
                    .Describe(_options.SettingUnit)));
                return new WayKept(form, kept, null);
            }

            double low = e.Estimate - StudentT.UpperQuantile(alpha, e.DegreesOfFreedom) * e.StandardError;
            if (AnswerFinisher.Percent(e.Estimate) is not { } percent || AnswerFinisher.Percent(low) is not { } percentLow) return
                new WayKept(form, kept, null);
            var step = new Step(setting, percent, percentLow, e,
                StudentT.UpperTail((e.Estimate - limit) / e.StandardError, e.DegreesOfFreedom));
            if (!(low > limit)) return new WayKept(form, kept, step);
            kept = step;
        }

        return new WayKept(form, kept, null);
    }

    /// <summary>The figures are those of the way that keeps farther; the other way stands beside them.</summary>
    private QuestionAnswer Answer(Side side, decimal reference, WayKept[] ways, IContrasts by, double alpha)
    {
        WayKept first = ways.MaxBy(way => way.Kept is { } kept ? Math.Abs(kept.Setting - reference) : -1)!;
        WayKept? other = ways.FirstOrDefault(way => way != first);
        var answer = new QuestionAnswer
        {
            Question = QuestionNames.Keeps,
            Material = side.Material,
            Condition = side.Condition,
            Setting = first.Kept?.Setting,
            AgainstSetting = reference,
            Form = first.Form,
            About = by.About,
            Prints = [context.PrintsOf(context.Groups(side))],
            Percent = first.Kept?.Percent,
            PercentLow = first.Kept?.PercentLow,
            LogEstimate = first.Kept?.Estimate.Estimate,
            LogStandardError = first.Kept?.Estimate.StandardError,
            DegreesOfFreedom = first.Kept?.Estimate.DegreesOfFreedom,
            P = first.Kept?.P,
            Verdict = first.Kept is null ? QuestionVerdicts.NotShown : QuestionVerdicts.Kept,
            OtherWay = other is null ? null
                : new KeptOtherWay(other.Form, other.Kept?.Setting, other.Kept?.Percent, other.Kept?.PercentLow),
        };
        return answer with { Sentence = Sentence(answer, ways, 100 * (1 - alpha)) };
    }

    private string Sentence(QuestionAnswer answer, WayKept[] ways, double confidence)
    {
        string keeps = NumberText.Of(_options.KeepsPercent, _options.KeepsPercent % 1 == 0 ? 0 : 1), from = Text(answer.AgainstSetting);
        string sure = NumberText.Of(confidence, confidence % 1 == 0 ? 0 : 1), statement;
        if (ways is [var one])
        {
            statement = one.Kept is { } kept ? CoreText.AnswerKept(keeps, from, Figures(kept), sure)
                + (one.Failed is { } next ? CoreText.AnswerKeptNoFarther(Text(next.Setting)) : "")
                : one.Failed is { } failed ? CoreText.AnswerNotKept(keeps, from, Figures(failed), sure)
                    : CoreText.AnswerKeepsUnknown(keeps, from);
        }
        else
        {
            statement = CoreText.AnswerKeptBothWays(keeps, from, [.. ways.Select(Way)], sure);
        }

        return CoreText.Answer(AnswerSentence.Place(answer, _options), statement, AnswerSentence.Scope(answer, context));

        string Way(WayKept way)
            => way.Kept is { } kept ? CoreText.AnswerKeptOneWay(way.Form == TrendForms.Up, Figures(kept), way.Failed is { } next
            ? Text(next.Setting) : null)
            : way.Failed is { } failed ? CoreText.AnswerNotKeptOneWay(way.Form == TrendForms.Up, Figures(failed))
                : CoreText.AnswerKeepsUnknownOneWay(way.Form == TrendForms.Up);
    }

    private KeptFigures Figures(Step step)
    {
        (double value, double low) = (100 + step.Percent, 100 + step.PercentLow);
        int decimals = NumberText.Decimals(value - low);
        return new KeptFigures(Text(step.Setting), NumberText.Of(value, decimals), NumberText.Of(low, decimals));
    }

    private string Text(decimal? setting) => GroupKey.SettingText(setting, _options.SettingUnit);

    /// <summary>One test: the setting, what it keeps beyond 100 %, and how well that is known.</summary>
    private sealed record Step(decimal Setting, double Percent, double PercentLow, ContrastEstimate Estimate, double P);

    /// <summary>How far it keeps in one direction; the first that failed, or null where none did or none could be judged.</summary>
    private sealed record WayKept(string Form, Step? Kept, Step? Failed);
}
