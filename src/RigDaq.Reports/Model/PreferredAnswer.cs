using RigDaq.Core.Comparisons;
using RigDaq.Core.Questions;

namespace RigDaq.Reports.Model;

/// <summary>One answer for one question, where there are two: about prints made alike if both sides had several prints, else about the
/// prints that were broken. The table of answers has both.</summary>
internal static class PreferredAnswer
{
    public static IEnumerable<QuestionAnswer> Of(ComparisonAnswer answer, string question) => answer.Answers
        .Where(a => a.Question == question && a is { Percent: not null, PercentLow: not null, PercentHigh: not null })
        .GroupBy(a => (a.Material, a.Condition, a.Setting, a.AgainstMaterial, a.AgainstCondition, a.AgainstSetting, a.AgainstStudy))
        .Select(same => same.FirstOrDefault(a => a.About == Abouts.PrintsMadeAlike && (a.Prints ?? []).All(prints => prints > 1))
            ?? same.FirstOrDefault(a => a.About == Abouts.ThesePrints) ?? same.First());
}
