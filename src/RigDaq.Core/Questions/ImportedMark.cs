using RigDaq.Core.Specimens;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>Marks the answers that rest on imported strengths, in figures and in words: a strength without a trace stays known as
/// one.</summary>
internal static class ImportedMark
{
    public static IReadOnlyList<QuestionAnswer> On(IReadOnlyList<QuestionAnswer> answers, AnswerContext context)
    {
        if (context.Observations.All(o => !o.IsImported)) return answers;
        var origins = new GroupOrigins(context.Observations, "", null);
        return [.. answers.Select(answer => Marked(answer, context, origins))];
    }

    // Those about earlier studies count both studies themselves.
    private static QuestionAnswer Marked(QuestionAnswer answer, AnswerContext context, GroupOrigins origins)
    {
        if (answer.Question is QuestionNames.EarlierStudy or QuestionNames.NotPrintable) return answer;
        ImportedShare share = origins.Imported(context.Table.Groups.Where(group => Takes(answer, context, group)));
        return share.Imported == 0 ? answer
            : answer with { Imported = share.Imported, Sentence = answer.Sentence + CoreText.AnswerImported(share.Imported, share.Total) };
    }

    private static bool HasBoth(QuestionAnswer answer, AnswerContext context, decimal? setting) =>
        context.Find(answer.Material!, answer.Condition!, setting) is not null
        && context.Find(answer.AgainstMaterial ?? answer.Material!, answer.AgainstCondition ?? answer.Condition!, setting) is not null;

    /// <summary>Whether a group's strengths are behind an answer.</summary>
    private static bool Takes(QuestionAnswer answer, AnswerContext context, GroupKey group)
    {
        bool own = group.Material == answer.Material && group.Condition == answer.Condition;
        bool other = group.Material == (answer.AgainstMaterial ?? answer.Material)
            && group.Condition == (answer.AgainstCondition ?? answer.Condition);
        if (!own && !other) return false;
        return answer.Question switch
        {
            QuestionNames.Condition or QuestionNames.Material => group.Setting == answer.Setting,
            QuestionNames.Share when answer.AgainstSetting is null => group.Setting == answer.Setting,
            QuestionNames.DropOff or QuestionNames.DropOffDifference => group.Setting == answer.Setting
                || group.Setting == answer.AgainstSetting,
            QuestionNames.ConditionAverage or QuestionNames.MaterialAverage or QuestionNames.ConditionTrend
                or QuestionNames.EquivalenceProfile => HasBoth(answer, context, group.Setting),
            _ => true,
        };
    }
}
