using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>Which share of the specimens broke in one manner or at one place: of each group, of two against each other, over the
/// settings.</summary>
/// <param name="observations">All judged specimens.</param>
/// <param name="context">What the questions share.</param>
internal sealed class ShareQuestion(IReadOnlyList<Observation> observations, AnswerContext context)
{
    private readonly ComparisonOptions _options = context.Options;
    private readonly ContrastQuestions _asked = new(context);

    /// <summary>Every manner and every place that was seen.</summary>
    public IReadOnlyList<QuestionAnswer> All() => [.. Of(o => o.Manner), .. Of(o => o.Location)];

    private IEnumerable<QuestionAnswer> Of(Func<Observation, string> word)
    {
        Observation[] judged = [.. observations.Where(o => word(o).Length > 0)];
        ILookup<GroupKey, Observation> groups = judged.ToLookup(o => o.Group);
        foreach (string kind in judged.Select(word).Distinct(StringComparer.Ordinal))
        {
            Dictionary<GroupKey, Counted> counted = groups.ToDictionary(g => g.Key, g => Counted.Of([.. g], o => word(o) == kind));
            foreach (var (group, share) in counted) yield return Single(kind, group, share);
            foreach (QuestionAnswer answer in Adjusted([.. Differences(kind, counted), .. Trends(kind, counted)])) yield return answer;
        }
    }

    private QuestionAnswer Single(string kind, GroupKey group, Counted share)
    {
        Interval interval = share.Proportion.Wilson(_options.Alpha);
        var answer = new QuestionAnswer
        {
            Question = QuestionNames.Share,
            Material = group.Material,
            Condition = group.Condition,
            Setting = group.Setting,
            Form = kind,
            Percent = 100 * share.Proportion.Share,
            PercentLow = 100 * interval.Low,
            PercentHigh = 100 * interval.High,
            Count = share.Count,
            Total = share.Total,
            About = About(share),
            Prints = [share.Prints],
        };
        return Say(answer, CoreText.AnswerShare(kind, share.Count, share.Total, Amount(answer, signed: false)));
    }

    private IEnumerable<QuestionAnswer> Differences(string kind, Dictionary<GroupKey, Counted> counted)
    {
        foreach (SidePair pair in _asked.Pairs(false).Concat(_asked.Pairs(true)))
        {
            foreach (decimal? setting in _asked.Both(pair))
            {
                if (!counted.TryGetValue(new GroupKey(pair.First.Material, pair.First.Condition, setting), out Counted? first)
                    || !counted.TryGetValue(new GroupKey(pair.Second.Material, pair.Second.Condition, setting), out Counted? second))
                    continue;
                Interval interval = Proportion.Newcombe(first.Proportion, second.Proportion, _options.Alpha);
                yield return ContrastQuestions.Identity(QuestionNames.Share, pair) with
                {
                    Setting = setting,
                    Form = kind,
                    Percent = 100 * (first.Proportion.Share - second.Proportion.Share),
                    PercentLow = 100 * interval.Low,
                    PercentHigh = 100 * interval.High,
                    P = Proportion.TrendP([(0, first.Proportion), (1, second.Proportion)]),
                    About = About(first, second),
                    Prints = [first.Prints, second.Prints],
                };
            }
        }
    }

    private IEnumerable<QuestionAnswer> Trends(string kind, Dictionary<GroupKey, Counted> counted)
    {
        foreach (Side side in _asked.Families())
        {
            (decimal Setting, Counted Share)[] shares =
                [.. counted.Where(c => c.Key.Material == side.Material && c.Key.Condition == side.Condition && c.Key.Setting is not null)
                .Select(c => (c.Key.Setting!.Value, c.Value)).OrderBy(c => c.Item1)];
            if (shares.Length < 3) continue;
            yield return new QuestionAnswer
            {
                Question = QuestionNames.Share,
                Material = side.Material,
                Condition = side.Condition,
                Setting = shares[^1].Setting,
                AgainstSetting = shares[0].Setting,
                Form = kind,
                P = Proportion.TrendP([.. shares.Select(s => ((double)s.Setting, s.Share.Proportion))]),
                About = About([.. shares.Select(s => s.Share)]),
                Prints = [shares.Max(s => s.Share.Prints)],
            };
        }
    }

    private IEnumerable<QuestionAnswer> Adjusted(QuestionAnswer[] answers)
    {
        foreach (var family in answers.GroupBy(a => a.About))
        {
            QuestionAnswer[] members = [.. family];
            IReadOnlyList<double?> adjusted = Holm.Adjust([.. members.Select(a => a.P)]);
            for (int i = 0; i < members.Length; i++)
            {
                bool different = adjusted[i] < _options.Alpha;
                QuestionAnswer answer = members[i] with
                {
                    PAdjusted = adjusted[i],
                    Verdict = different ? Verdicts.Different : Verdicts.NotResolved
                };
                string kind = answer.Form!, from = Text(answer.AgainstSetting), to = Text(answer.Setting);
                (string first, string second) = answer.AgainstMaterial is { } material ? (answer.Material!, material)
                    : (answer.Condition!, answer.AgainstCondition ?? "");
                yield return Say(answer, answer.Percent is null ? CoreText.AnswerShareTrend(kind, from, to, different)
                    : CoreText.AnswerShareDifference(kind, first, second, different, Amount(answer, signed: true)));
            }
        }
    }

    private AnswerAmount Amount(QuestionAnswer answer, bool signed) => AnswerAmount.Of(answer.Percent!.Value, answer.PercentLow!.Value,
        answer.PercentHigh!.Value, AnswerSentence.Confidence(_options), signed);

    private QuestionAnswer Say(QuestionAnswer answer, string statement) => answer with
    {
        Sentence = CoreText.Answer(AnswerSentence.Place(answer, _options), statement, AnswerSentence.Scope(answer, context)),
    };

    private string Text(decimal? setting) => GroupKey.SettingText(setting, _options.SettingUnit);

    /// <summary>Counts of one print speak of that print; of several, with their design effect, of prints made alike.</summary>
    private static string About(params Counted[] shares) => shares.All(s => s.Prints > 1) ? Abouts.PrintsMadeAlike : Abouts.ThesePrints;

    private sealed record Counted(int Count, int Total, int Prints, Proportion Proportion)
    {
        public static Counted Of(Observation[] judged, Func<Observation, bool> did)
        {
            (int Count, int Total)[] prints =
                [.. judged.GroupBy(o => o.Print, StringComparer.Ordinal).Select(print => (print.Count(did), print.Count()))];
            return new Counted(judged.Count(did), judged.Length, prints.Length, Proportion.Of(prints));
        }
    }
}
