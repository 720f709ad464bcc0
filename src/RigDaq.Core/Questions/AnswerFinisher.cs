using RigDaq.Core.Mixed;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>Gives drafted answers their figures, the family's adjustment, the verdict and the sentence.</summary>
internal static class AnswerFinisher
{
    /// <summary>Finishes the answers of one question; each "about" is a family of its own.</summary>
    public static IReadOnlyList<QuestionAnswer> Finish(IReadOnlyList<Drafted> drafts, AnswerContext context)
    {
        var finished = new QuestionAnswer[drafts.Count];
        foreach (var family in drafts.Select((draft, place) => (draft, place)).GroupBy(d => d.draft.By.About))
        {
            (Drafted Draft, int Place)[] members = [.. family.Where(m => InFamily(m.draft.Asked.Identity, context.Options))];
            IReadOnlyList<double?> adjusted = Adjust([.. members.Select(m => m.Draft)], context);
            Dictionary<int, double?> byPlace = members.Select((m, i) => (m.Place, adjusted[i])).ToDictionary(m => m.Place, m => m.Item2);
            int counted = members.Count(m => m.Draft.Estimate is not null);
            foreach (var (draft, place) in family)
                finished[place] = Conclude(draft, byPlace.TryGetValue(place, out double? p) ? p : draft.P, !byPlace.ContainsKey(place),
                    counted, context);
        }

        return finished;
    }

    /// <summary>The greater one-sided p against a margin on the model's scale.</summary>
    public static double EquivalenceP(ContrastEstimate estimate, ComparisonOptions options)
    {
        (double low, double high) = (Math.Log(1 - options.MarginPercent / 100), Math.Log(1 + options.MarginPercent / 100));
        return Math.Max(StudentT.UpperTail((estimate.Estimate - low) / estimate.StandardError, estimate.DegreesOfFreedom),
            StudentT.UpperTail((high - estimate.Estimate) / estimate.StandardError, estimate.DegreesOfFreedom));
    }

    /// <summary>A figure on the logarithm as a change in per cent.</summary>
    public static double? Percent(double? log) => log is { } value && 100 * (Math.Exp(value) - 1) is var percent && double.IsFinite(percent)
        ? percent : null;

    /// <summary>Fills the figures of an estimate in.</summary>
    public static QuestionAnswer WithFigures(QuestionAnswer answer, ContrastEstimate? estimate, double alpha)
    {
        if (estimate is not { } e) return answer;
        double half = StudentT.TwoSidedQuantile(alpha, e.DegreesOfFreedom) * e.StandardError;
        return answer with
        {
            Percent = Percent(e.Estimate),
            PercentLow = Percent(e.Estimate - half),
            PercentHigh = Percent(e.Estimate + half),
            LogEstimate = e.Estimate,
            LogStandardError = e.StandardError,
            DegreesOfFreedom = e.DegreesOfFreedom,
        };
    }

    /// <summary>Whether an answer shares the adjustment of its kind: all do, unless a plan was frozen without it.</summary>
    public static bool InFamily(QuestionAnswer answer, ComparisonOptions options)
    {
        if (options.Frozen is { } frozen) return frozen.Any(answer.Answers);
        return answer.Question != QuestionNames.Condition || options.Planned is not { } planned
            || planned.Any(plan => plan.Material == answer.Material
            && plan.Setting == answer.Setting && plan.Condition == answer.Condition && plan.Reference == answer.AgainstCondition);
    }

    /// <summary>Dunnett's for materials against a named one, else Holm's.</summary>
    private static IReadOnlyList<double?> Adjust(Drafted[] drafts, AnswerContext context)
    {
        bool dunnett = context.Options.ReferenceMaterial is not null && drafts.Length > 0
            && drafts[0].Asked.Identity.Question is QuestionNames.Material or QuestionNames.MaterialAverage;
        return dunnett ? Simultaneous.Adjust(drafts, context.Warnings) : Holm.Adjust([.. drafts.Select(d => d.P)]);
    }

    private static QuestionAnswer Conclude(Drafted draft, double? adjusted, bool afterwards, int family, AnswerContext context)
    {
        QuestionAnswer identity = draft.Asked.Identity with
        {
            About = draft.By.About,
            Prints = Prints(draft.Asked.Contrast, context),
            SeenAfterwards = afterwards,
        };
        if (draft.Estimate is not { } estimate)
        {
            context.Warnings.Add(CoreText.AnswerWithoutScatter(AnswerSentence.Place(identity, context.Options)));
            return identity with { Sentence = AnswerSentence.Of(identity, draft.Asked.Settings, family, context) };
        }

        double equivalence = EquivalenceP(estimate, context.Options), alpha = context.Options.Alpha;
        QuestionAnswer answer = WithFigures(identity, estimate, alpha) with
        {
            P = draft.P,
            PAdjusted = adjusted,
            PEquivalence = equivalence,
            Verdict = adjusted < alpha ? Verdicts.Different : equivalence < alpha ? Verdicts.Equivalent : Verdicts.NotResolved,
        };
        return answer with { Sentence = AnswerSentence.Of(answer, draft.Asked.Settings, family, context) };
    }

    /// <summary>Prints of the side that counts up and of the side that counts down; one figure where both are the same prints.</summary>
    private static int[] Prints(Contrast contrast, AnswerContext context)
    {
        (int Group, double Weight)[] weights = [.. contrast.Gathered];
        int[] families = [.. weights.Select(w => context.Table.FamilyOf[w.Group]).Distinct()];
        return [.. families.Select(f => context.PrintsOf(weights.Select(w => w.Group).Where(g => context.Table.FamilyOf[g] == f)))];
    }
}
