using RigDaq.App.Text;
using RigDaq.Core.Specimens;

namespace RigDaq.Web.Views;

/// <summary>What a plan asks.</summary>
/// <param name="Questions">Every question that there is.</param>
/// <param name="Materials">The materials' names.</param>
/// <param name="ReferenceMaterial">The material that the others are compared with; null for all pairs.</param>
/// <param name="KeepsPercent">How many per cent of the reference setting's strength is asked to be kept.</param>
internal sealed record QuestionsView(IReadOnlyList<QuestionItem> Questions, IReadOnlyList<string> Materials, string? ReferenceMaterial,
    double KeepsPercent)
{
    internal static QuestionsView From(Study study)
    {
        // An open plan without a list asks all; one that was frozen before there were questions asks what was planned then.
        HashSet<string>? asked = study.PlannedQuestions is { } planned ? [.. planned.Select(question => question.Question)]
            : study.PlanFrozenAt is null ? null : [QuestionNames.Condition];
        return new([.. QuestionNames.All.Select(name => new QuestionItem(name, WordsOf(name), asked?.Contains(name) ?? true))],
            [.. study.Prints.Select(print => print.Material).Distinct()], study.ReferenceMaterial, study.KeepsPercent);
    }

    private static string WordsOf(string question) => question switch
    {
        QuestionNames.Condition => PageText.Of("studies.askCondition"),
        QuestionNames.ConditionAverage => PageText.Of("studies.askConditionAverage"),
        QuestionNames.ConditionTrend => PageText.Of("studies.askConditionTrend"),
        QuestionNames.Material => PageText.Of("studies.askMaterial"),
        QuestionNames.MaterialAverage => PageText.Of("studies.askMaterialAverage"),
        QuestionNames.DropOff => PageText.Of("studies.askDropOff"),
        QuestionNames.DropOffDifference => PageText.Of("studies.askDropOffDifference"),
        QuestionNames.Keeps => PageText.Of("studies.askKeeps"),
        QuestionNames.BestSettings => PageText.Of("studies.askBestSettings"),
        QuestionNames.EquivalenceProfile => PageText.Of("studies.askEquivalenceProfile"),
        QuestionNames.EarlierStudy => PageText.Of("studies.askEarlierStudy"),
        QuestionNames.Share => PageText.Of("studies.askShare"),
        QuestionNames.NotPrintable => PageText.Of("studies.askNotPrintable"),
        _ => throw new ArgumentOutOfRangeException(nameof(question), question, null),
    };
}

/// <summary>One question.</summary>
/// <param name="Name">Its name, as everywhere.</param>
/// <param name="Words">What it asks.</param>
/// <param name="Asked">Whether the plan asks it.</param>
internal sealed record QuestionItem(string Name, string Words, bool Asked);
