using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>What was found over all settings and materials: one paragraph to begin with, and the table of answers.</summary>
internal static class AnswerBlocks
{
    /// <summary>The paragraph; null where nothing was answered.</summary>
    public static string? Found(StudyReportModel model, ComparisonAnswer answer)
    {
        string unit = model.Study.SettingUnit;
        var sentences = new List<string>();
        foreach (var pair in PreferredAnswer.Of(answer, QuestionNames.Condition)
            .GroupBy(a => (a.Material, a.Condition, a.AgainstCondition)))
        {
            QuestionAnswer[] across = [.. pair.OrderBy(a => a.Setting)];
            QuestionAnswer? average = PreferredAnswer.Of(answer, QuestionNames.ConditionAverage)
                .FirstOrDefault(a => (a.Material, a.Condition, a.AgainstCondition) == pair.Key);
            QuestionAnswer? trend = PreferredAnswer.Of(answer, QuestionNames.ConditionTrend)
                .FirstOrDefault(a => (a.Material, a.Condition, a.AgainstCondition) == pair.Key);
            sentences.Add(ReportText.FoundCondition(across, average, trend, unit, model.Study.SettingName));
        }

        foreach (var condition in PreferredAnswer.Of(answer, QuestionNames.MaterialAverage).GroupBy(a => a.Condition)) sentences
            .Add(ReportText.FoundMaterials(condition.Key!, [.. condition]));
        if (PreferredAnswer.Of(answer, QuestionNames.DropOffDifference).Where(a => a.Verdict == Verdicts.Different
            && a.AgainstMaterial is not null).ToArray() is { Length: > 0 } faster)
            sentences.Add(ReportText.FoundDropOffs(faster, unit));
        if (answer.Answers.Where(a => a.Question == QuestionNames.Keeps && a.Setting is not null)
            .DistinctBy(a => (a.Material, a.Condition, a.Setting)).ToArray() is { Length: > 0 } keeps) sentences
            .Add(ReportText.FoundKeeps(keeps, model.Study.KeepsPercent, unit));
        foreach (var earlier in PreferredAnswer.Of(answer, QuestionNames.EarlierStudy).GroupBy(a => a.AgainstStudy!)) sentences
            .Add(ReportText.FoundEarlier(earlier.Key, Shortest([.. earlier]), unit));
        string[] failed = [.. model.Study.Groups().Select(group => (Group: group, Prints: model.Study.PrintsOf(group)))
            .Where(g => g.Prints.Failed > 0)
            .GroupBy(g => (g.Group.Material, g.Group.Setting)).Select(g => ReportText.FoundNotPrintable(
                g.Key.Material, GroupKey.SettingText(g.Key.Setting, unit), g.Sum(x => x.Prints.Failed), g.Sum(x => x.Prints.Prints),
                [.. model.Study.Prints.Where(p => p.Material == g.Key.Material).Select(p => p.At(g.Key.Setting)?.Failure?.Reason)
                    .OfType<string>().Distinct()]))];
        sentences.AddRange(failed);
        if (sentences.Count == 0) return null;
        sentences.Add(ReportText.FoundScope(answer.Answers, answer.Model, model.ConfidencePercent));
        return string.Join(" ", sentences.Where(sentence => sentence.Length > 0));
    }

    /// <summary>Every answer, a row each.</summary>
    public static Table Answers(StudyReportModel model, ComparisonAnswer answer) => new(
        ReportText.AnswersCaption,
        [
            new(ReportText.QuestionColumn), new(ReportText.AnswerWhereColumn), new(ReportText.WhatColumn),
                new(ReportText.ChangeColumn, true), new(ReportText.AdjustedColumn, true),
            new(ReportText.AnswerVerdictColumn), new(ReportText.AboutColumn),
        ],
        [.. WithoutComplements(answer.Answers).Select(a => Row(model, a))],
        ReportText.AnswersNote(answer, model.ConfidencePercent));

    // Where specimens broke in two manners only, the second one's share follows from the first one's.
    private static IEnumerable<QuestionAnswer> WithoutComplements(IReadOnlyList<QuestionAnswer> answers)
    {
        string[] manners = [.. answers.Where(a => a.Question == QuestionNames.Share).Select(a => a.Form).OfType<string>().Distinct()
            .Where(form => StudyQuestions.Manners.Contains(form))];
        return manners.Length != 2 ? answers : answers.Where(a => a.Question != QuestionNames.Share || a.Form != manners[1]);
    }

    /// <summary>Of a material and condition the average over its settings where there is one, else each setting.</summary>
    private static QuestionAnswer[] Shortest(QuestionAnswer[] rows)
        =>
        [.. rows.Where(a => a.Setting is null
        || rows.All(b => b.Setting is not null || (b.Material, b.Condition) != (a.Material, a.Condition)))];

    private static string[] Row(StudyReportModel model, QuestionAnswer a)
    {
        string unit = model.Study.SettingUnit;
        bool between = a.AgainstMaterial is not null || a.AgainstCondition is not null;
        string where = string.Join(", ", new[]
        {
            a.AgainstMaterial is null ? a.Material : null, a.AgainstCondition is null ? a.Condition : null,
            a.AgainstSetting is null ? GroupKey.SettingText(a.Setting, unit) : null,
        }.Where(part => !string.IsNullOrEmpty(part)));
        string settings = a.AgainstSetting is null ? ""
            : ReportText.AnswerSettings(GroupKey.SettingText(a.AgainstSetting, unit), GroupKey.SettingText(a.Setting, unit));
        string what = string.Join(", ", new[]
        {
            a.AgainstMaterial is { } m ? ReportText.AnswerPair(a.Material!, m) : "", a.AgainstCondition is { } c
                ? ReportText.AnswerPair(a.Condition!, c) : "", settings,
            a.Form is { } form ? ReportText.Manner(form) : "",
        }.Where(part => part.Length > 0));
        return
        [
            ReportText.AnswerQuestion(a.Question) + (a.SeenAfterwards ? ReportText.SeenAfterwardsMark : "")
                + (a.Imported > 0 ? ReportText.ImportedMark : ""),
            where.Length == 0 ? ReportText.None : where,
            what.Length == 0 ? ReportText.None : what,
            a is { Percent: { } percent, PercentLow: { } low, PercentHigh: { } high } ? ReportText.MeanWithInterval(percent, low, high)
                : a is { Count: { } count, Total: { } total } ? ReportText.CountOfTotal(count, total) : ReportText.None,
            ReportText.Probability(a.PAdjusted ?? (between ? null : a.P)),
            a.Verdict is { } verdict ? ReportText.AnswerVerdict(verdict) : ReportText.None,
            a.About is { } about ? ReportText.AnswerAbout(about) : ReportText.None,
        ];
    }
}
