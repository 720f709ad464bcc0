using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>How many prints failed at a setting, of those that were tried.</summary>
internal static class NotPrintableQuestion
{
    /// <summary>One answer for each group in which a stretch could not be printed.</summary>
    public static IEnumerable<QuestionAnswer> Of(IReadOnlyList<Observation> observations, IReadOnlyList<FailedStretch> failed,
        ComparisonOptions options)
    {
        foreach (var group in failed.GroupBy(f => f.Group))
        {
            int vain = group.Sum(f => Math.Max(1, f.Tries)), well = observations.Where(o => o.Group == group.Key).Select(o => o.Print)
                .Distinct(StringComparer.Ordinal).Count();
            Interval interval = new Proportion((double)vain / (vain + well), vain + well).Wilson(options.Alpha);
            string[] reasons = [.. group.Select(f => f.Reason.Trim()).Where(reason => reason.Length > 0).Distinct(StringComparer.Ordinal)];
            var answer = new QuestionAnswer
            {
                Question = QuestionNames.NotPrintable,
                Material = group.Key.Material,
                Condition = group.Key.Condition,
                Setting = group.Key.Setting,
                Percent = 100.0 * vain / (vain + well),
                PercentLow = 100 * interval.Low,
                PercentHigh = 100 * interval.High,
                Count = vain,
                Total = vain + well,
                Prints = [vain + well],
                About = Abouts.ThesePrints,
            };
            yield return answer with
            { Sentence = CoreText.AnswerNotPrintable(AnswerSentence.Place(answer, options), vain, vain + well, reasons) };
        }
    }
}
