using RigDaq.Core.Groups;
using RigDaq.Core.Mixed;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Questions;

/// <summary>
/// A group against the same group of an earlier study, and on average over the settings that both have: two models' means, never pooled. A
/// calibration moves all of its specimens together: within a study and between studies under the same calibration it cancels, otherwise it
/// is added whole, once for each. Where both studies pulled the same control, its change is taken off: what then is left is not the rig's.
/// </summary>
internal sealed class EarlierQuestion
{
    private readonly AnswerContext _now, _before;
    private readonly EarlierStudy _earlier;
    private readonly GroupOrigins _nows, _befores;
    private readonly GroupKey? _control;

    private EarlierQuestion(AnswerContext now, AnswerContext before, EarlierStudy earlier)
    {
        (_now, _before, _earlier) = (now, before, earlier);
        _nows = new GroupOrigins(now.Observations, Unnamed, now.Options.CalibrationPercent);
        _befores = new GroupOrigins(before.Observations, Unnamed + earlier.Name, earlier.CalibrationPercent);
        _control = now.Options.Control is { } control && control == earlier.Control && Has(now, control) && Has(before, control) ? control
            : null;
    }

    // Strengths that name no calibration share one of their study.
    private const string Unnamed = "?";

    /// <summary>All groups that both studies have.</summary>
    public static IReadOnlyList<QuestionAnswer> Of(AnswerContext context)
    {
        var drafts = new List<Draft>();
        foreach (EarlierStudy earlier in context.Options.Earlier)
        {
            var warnings = new List<Sentence>();
            ComparisonOptions options = context.Options with { Earlier = [], Control = null };
            if (AnswerContext.Of(earlier.Observations, options, warnings) is not { } before) continue;
            context.Warnings.AddRange(warnings.Select(warning => CoreText.AnswerOfEarlier(earlier.Name, warning)));
            Draft[] own = [.. new EarlierQuestion(context, before, earlier).Drafts()];
            if (own.Length == 0) context.Warnings.Add(CoreText.AnswerEarlierWithoutCommon(earlier.Name));
            else Warn(context, earlier, own);
            drafts.AddRange(own);
        }

        var finished = new QuestionAnswer[drafts.Count];
        foreach (var family in Enumerable.Range(0, drafts.Count).GroupBy(i => drafts[i].Identity.About))
        {
            int[] places = [.. family], members = [.. places.Where(i => AnswerFinisher.InFamily(drafts[i].Identity, context.Options))];
            IReadOnlyList<double?> adjusted = Holm.Adjust([.. members.Select(i => drafts[i].P)]);
            Dictionary<int, double?> byPlace = members.Select((place, k) => (place, adjusted[k])).ToDictionary(m => m.place, m => m.Item2);
            foreach (int place in places)
                finished[place] = Conclude(drafts[place], byPlace.TryGetValue(place, out double? p) ? p : drafts[place].P,
                    !byPlace.ContainsKey(place), members.Length, context);
        }

        return finished;
    }

    private static void Warn(AnswerContext context, EarlierStudy earlier, Draft[] drafts)
    {
        if (earlier.FromElsewhere && drafts.Any(draft => !draft.Corrected))
            context.Warnings.Add(CoreText.AnswerEarlierOtherBench(earlier.Name));
        if (drafts.Any(draft => draft.CalibrationMissing)) context.Warnings.Add(CoreText.AnswerEarlierCalibrationUnknown(earlier.Name));
        if (drafts.All(draft => !draft.Corrected) && earlier.ControlInBoth is not true)
            context.Warnings
                .Add(CoreText.AnswerEarlierWithoutControl(earlier.Name, earlier.ControlInBoth is null && earlier.Control is null));
    }

    private IEnumerable<Draft> Drafts()
    {
        GroupKey[] common = [.. _now.Table.Groups.Where(group => Has(_before, group))];
        foreach (GroupKey group in common)
        {
            bool corrected = _control is not null && group != _control;
            foreach (Draft draft in Of([group], corrected, group.Setting)) yield return draft;
        }

        foreach (var side in common.Where(g => g.Setting is not null && g != _control).GroupBy(g => (g.Material, g.Condition))
            .Where(side => side.Count() > 1))
        {
            foreach (Draft draft in Of([.. side], _control is not null, null)) yield return draft;
        }
    }

    /// <summary>Prints made alike only where both studies can say it; "these prints" where either can say no more.</summary>
    private IEnumerable<Draft> Of(GroupKey[] groups, bool corrected, decimal? setting)
    {
        (GroupKey Group, double Weight)[] sum = [.. groups.Select(g => (g, 1.0 / groups.Length)), .. corrected ? new[] { (_control!, -1.0) }
            : []];
        Contrast own = In(_now, sum), other = In(_before, sum);
        string[] abouts = [.. _now.AnswerersOf(own).Select(by => by.About).Concat(_before.AnswerersOf(other).Select(by => by.About))
            .Distinct()];
        var shifts = Shifts(sum);
        ImportedShare imported = _nows.Imported(sum.Select(s => s.Group)) + _befores.Imported(sum.Select(s => s.Group));
        foreach (string about in abouts)
        {
            if (_now.By(about) is not { } first || _before.By(about) is not { } second) continue;
            var identity = new QuestionAnswer
            {
                Question = QuestionNames.EarlierStudy,
                Material = groups[0].Material,
                Condition = groups[0].Condition,
                Setting = setting,
                About = about,
                Form = _earlier.Name,
                AgainstStudy = _earlier.Name,
                CorrectedByControl = corrected,
                Imported = imported.Imported > 0 ? imported.Imported : null,
                Prints = [_now.PrintsOf(Indices(_now, groups)), _before.PrintsOf(Indices(_before, groups))],
            };
            yield return new Draft(identity, Difference(first.Of(own), second.Of(other), shifts.Sum(s => s.Standard * s.Standard)),
                _earlier, groups.Length, imported)
            {
                CalibrationMissing = shifts.Any(s => s.Missing),
                IsControl = _control is not null && groups is [var one] && one == _control,
            };
        }
    }

    private CalibrationShift[] Shifts((GroupKey Group, double Weight)[] sum)
    {
        IReadOnlyDictionary<string, CalibrationShift> nows = _nows.Shifts(sum), befores = _befores.Shifts(sum);
        return [.. nows.Keys.Union(befores.Keys)
            .Select(id => nows.GetValueOrDefault(id, CalibrationShift.None).Minus(befores.GetValueOrDefault(id, CalibrationShift.None)))];
    }

    private static ContrastEstimate? Difference(ContrastEstimate? now, ContrastEstimate? before, double calibrations)
    {
        if (now is not { } a || before is not { } b) return null;
        double va = a.StandardError * a.StandardError, vb = b.StandardError * b.StandardError, variance = va + vb + calibrations;
        double degrees = 1 / (va / variance * (va / variance) / a.DegreesOfFreedom + vb / variance * (vb / variance) / b.DegreesOfFreedom);
        return new ContrastEstimate(a.Estimate - b.Estimate, Math.Sqrt(variance), degrees);
    }

    private static QuestionAnswer Conclude(Draft draft, double? adjusted, bool afterwards, int family, AnswerContext context)
    {
        ComparisonOptions options = context.Options;
        string place = AnswerSentence.Place(draft.Identity, options), name = draft.Earlier.Name;
        string scope = AnswerSentence.Scope(draft.Identity, context)
            + (draft.Share.Imported > 0 ? CoreText.AnswerImported(draft.Share.Imported, draft.Share.Total) : "");
        if (draft.Estimate is not { } estimate)
        {
            context.Warnings.Add(CoreText.AnswerWithoutScatter(place));
            return draft.Identity with
            {
                Sentence = CoreText.Answer(place, CoreText.AnswerEarlierUnknown(name), scope),
                SeenAfterwards = afterwards
            };
        }

        double equivalence = AnswerFinisher.EquivalenceP(estimate, options);
        QuestionAnswer answer = AnswerFinisher.WithFigures(draft.Identity, estimate, options.Alpha) with
        {
            P = draft.P,
            PAdjusted = adjusted,
            PEquivalence = equivalence,
            Verdict = adjusted < options.Alpha ? Verdicts.Different : equivalence < options.Alpha ? Verdicts.Equivalent
                : Verdicts.NotResolved,
            SeenAfterwards = afterwards,
        };
        AnswerAmount amount = AnswerAmount.Of(answer.Percent ?? 0, answer.PercentLow ?? 0, answer.PercentHigh ?? 0,
            AnswerSentence.Confidence(options), answer.Verdict != Verdicts.Different);
        string statement = CoreText.AnswerEarlierOver(draft.Settings) + answer.Verdict switch
        {
            Verdicts.Different => CoreText.AnswerEarlierDifferent(name, estimate.Estimate > 0, amount),
            Verdicts.Equivalent => CoreText.AnswerEarlierEquivalent(name, AnswerSentence.Margin(options), amount),
            _ => CoreText.AnswerEarlierNotResolved(name, amount) + (answer.P < options.Alpha ? CoreText.AnswerAloneOnly(family) : ""),
        };
        string control = draft.Corrected ? CoreText.AnswerEarlierCorrected(options.Control!.Describe(options.SettingUnit))
            : draft.IsControl ? CoreText.AnswerEarlierIsControl : CoreText.AnswerEarlierControl(draft.Earlier.ControlInBoth);
        return answer with { Sentence = CoreText.Answer(place, statement + control, scope) };
    }

    private static bool Has(AnswerContext context, GroupKey group) =>
        context.Find(group.Material, group.Condition, group.Setting) is not null;

    private static Contrast In(AnswerContext context, (GroupKey Group, double Weight)[] sum) =>
        new([.. sum.Select(s => (context.Find(s.Group.Material, s.Group.Condition, s.Group.Setting)!.Value, s.Weight))]);

    private static IEnumerable<int> Indices(AnswerContext context, GroupKey[] groups) =>
        In(context, [.. groups.Select(g => (g, 1.0))]).Weights.Select(w => w.Group);

    private sealed record Draft(QuestionAnswer Identity, ContrastEstimate? Estimate, EarlierStudy Earlier, int Settings,
        ImportedShare Share)
    {
        public bool CalibrationMissing { get; init; }

        public bool IsControl { get; init; }

        public bool Corrected => Identity.CorrectedByControl == true;

        public double? P => Estimate is { } e ? StudentT.TwoSidedTail(e.Estimate / e.StandardError, e.DegreesOfFreedom) : null;
    }
}
