using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics.Mixed;
using RigDaq.Core.Text;

namespace RigDaq.Core.Statistics.Questions;

/// <summary>
/// A group against the same group of an earlier study: two models' means, never pooled. Each study's calibration moves all of its specimens together, so that its
/// uncertainty is added whole, once for each study.
/// </summary>
internal static class EarlierQuestion
{
    /// <summary>All groups that both studies have.</summary>
    public static IReadOnlyList<QuestionAnswer> Of(AnswerContext context)
    {
        var drafts = new List<(QuestionAnswer Identity, ContrastEstimate? Estimate, EarlierStudy Earlier)>();
        foreach (EarlierStudy earlier in context.Options.Earlier)
        {
            var warnings = new List<string>();
            ComparisonOptions options = context.Options with { Earlier = [] };
            if (AnswerContext.Of(earlier.Observations, options, warnings) is not { } before) continue;
            context.Warnings.AddRange(warnings.Select(warning => CoreText.AnswerOfEarlier(earlier.Name, warning)));
            GroupKey[] common = [.. context.Table.Groups.Where(g => before.Find(g.Material, g.Condition, g.Setting) is not null)];
            if (common.Length == 0) context.Warnings.Add(CoreText.AnswerEarlierWithoutCommon(earlier.Name));
            else Warn(context, earlier);
            drafts.AddRange(common.SelectMany(group => Drafts(group, context, before, earlier)));
        }

        var finished = new QuestionAnswer[drafts.Count];
        foreach (var family in Enumerable.Range(0, drafts.Count).GroupBy(i => drafts[i].Identity.About))
        {
            int[] places = [.. family];
            IReadOnlyList<double?> adjusted = Holm.Adjust([.. places.Select(i => P(drafts[i].Estimate))]);
            for (int k = 0; k < places.Length; k++) finished[places[k]] = Conclude(drafts[places[k]], adjusted[k], places.Length, context);
        }

        return finished;
    }

    private static void Warn(AnswerContext context, EarlierStudy earlier)
    {
        if (context.Options.CalibrationPercent is null || earlier.CalibrationPercent is null) context.Warnings.Add(CoreText.AnswerEarlierCalibrationUnknown(earlier.Name));
        if (earlier.ControlInBoth is not true) context.Warnings.Add(CoreText.AnswerEarlierWithoutControl(earlier.Name, earlier.ControlInBoth is null));
    }

    private static IEnumerable<(QuestionAnswer, ContrastEstimate?, EarlierStudy)> Drafts(GroupKey group, AnswerContext now, AnswerContext before, EarlierStudy earlier)
    {
        Contrast own = Single(now, group), other = Single(before, group);
        IReadOnlyList<IContrasts> nows = now.AnswerersOf(own), befores = before.AnswerersOf(other);
        string[] abouts = [.. nows.Select(by => by.About).Concat(befores.Select(by => by.About)).Distinct()];

        // Prints made alike only where both studies can say it; "these prints" where either can say no more.
        foreach (string about in abouts)
        {
            IContrasts? first = now.By(about), second = before.By(about);
            if (first is null || second is null) continue;
            var identity = new QuestionAnswer
            {
                Question = QuestionNames.EarlierStudy,
                Material = group.Material,
                Condition = group.Condition,
                Setting = group.Setting,
                About = about,
                Form = earlier.Name,
                Prints = [now.PrintsOf(own.Weights.Select(w => w.Group)), before.PrintsOf(other.Weights.Select(w => w.Group))],
            };
            yield return (identity, Difference(first.Of(own), second.Of(other), now.Options.CalibrationPercent ?? 0, earlier.CalibrationPercent ?? 0), earlier);
        }
    }

    private static ContrastEstimate? Difference(ContrastEstimate? now, ContrastEstimate? before, double calibrationPercent, double earlierCalibrationPercent)
    {
        if (now is not { } a || before is not { } b) return null;
        double va = a.StandardError * a.StandardError, vb = b.StandardError * b.StandardError;
        double variance = va + vb + (calibrationPercent * calibrationPercent + earlierCalibrationPercent * earlierCalibrationPercent) / 1e4;
        double degrees = 1 / (va / variance * (va / variance) / a.DegreesOfFreedom + vb / variance * (vb / variance) / b.DegreesOfFreedom);
        return new ContrastEstimate(a.Estimate - b.Estimate, Math.Sqrt(variance), degrees);
    }

    private static QuestionAnswer Conclude((QuestionAnswer Identity, ContrastEstimate? Estimate, EarlierStudy Earlier) draft, double? adjusted, int family, AnswerContext context)
    {
        ComparisonOptions options = context.Options;
        string place = AnswerSentence.Place(draft.Identity, options), scope = AnswerSentence.Scope(draft.Identity, context);
        if (draft.Estimate is not { } estimate)
        {
            context.Warnings.Add(CoreText.AnswerWithoutScatter(place));
            return draft.Identity with { Sentence = CoreText.Answer(place, CoreText.AnswerEarlierUnknown(draft.Earlier.Name), scope) };
        }

        double equivalence = AnswerFinisher.EquivalenceP(estimate, options);
        QuestionAnswer answer = AnswerFinisher.WithFigures(draft.Identity, estimate, options.Alpha) with
        {
            P = P(estimate),
            PAdjusted = adjusted,
            PEquivalence = equivalence,
            Verdict = adjusted < options.Alpha ? Verdicts.Different : equivalence < options.Alpha ? Verdicts.Equivalent : Verdicts.NotResolved,
        };
        AnswerAmount amount = AnswerAmount.Of(
            answer.Percent ?? 0, answer.PercentLow ?? 0, answer.PercentHigh ?? 0, AnswerSentence.Confidence(options), answer.Verdict != Verdicts.Different);
        string statement = answer.Verdict switch
        {
            Verdicts.Different => CoreText.AnswerEarlierDifferent(draft.Earlier.Name, estimate.Estimate > 0, amount),
            Verdicts.Equivalent => CoreText.AnswerEarlierEquivalent(draft.Earlier.Name, AnswerSentence.Margin(options), amount),
            _ => CoreText.AnswerEarlierNotResolved(draft.Earlier.Name, amount) + (answer.P < options.Alpha ? CoreText.AnswerAloneOnly(family) : ""),
        };
        return answer with { Sentence = CoreText.Answer(place, statement + CoreText.AnswerEarlierControl(draft.Earlier.ControlInBoth), scope) };
    }

    private static double? P(ContrastEstimate? estimate) => estimate is { } e ? StudentT.TwoSidedTail(e.Estimate / e.StandardError, e.DegreesOfFreedom) : null;

    private static Contrast Single(AnswerContext context, GroupKey group) => new([(context.Find(group.Material, group.Condition, group.Setting)!.Value, 1.0)]);
}
