using RigDaq.App.Text;
using RigDaq.Core.Specimens;

namespace RigDaq.Web.Views;

/// <summary>One stretch of a print.</summary>
/// <param name="Setting">Its setting; null where the study has none.</param>
/// <param name="Words">The setting with its unit; empty where there is none.</param>
/// <param name="Specimens">Cut from it.</param>
/// <param name="Names">The first and the last of them; empty where there are none.</param>
/// <param name="Pulled">Of these, how many have a run.</param>
/// <param name="Failure">That it could not be printed; null where it was, or is to be.</param>
internal sealed record StretchItem(decimal? Setting, string Words, int Specimens, string Names, int Pulled, FailureItem? Failure)
{
    internal static IReadOnlyList<StretchItem> Of(Study study, Print print, IEnumerable<Specimen> cut, IReadOnlySet<string> pulled)
    {
        ILookup<decimal?, Specimen> bySetting = cut.ToLookup(specimen => specimen.Setting);
        return
        [
            .. print.Stretches.Select(stretch => new StretchItem(
                stretch.Setting, GroupKey.SettingText(stretch.Setting, study.SettingUnit), bySetting[stretch.Setting].Count(), Range([.. bySetting[stretch.Setting].Select(specimen => specimen.Id).Order(StringComparer.Ordinal)]),
                bySetting[stretch.Setting].Count(specimen => pulled.Contains(specimen.Id)), FailureItem.Of(stretch.Failure))),
        ];
    }

    private static string Range(string[] names) => names.Length switch
    {
        0 => "",
        1 => names[0],
        _ => $"{names[0]} … {names[^1]}",
    };
}

/// <summary>That a stretch could not be printed.</summary>
/// <param name="Reason">Why.</param>
/// <param name="Tries">How many times it was tried.</param>
/// <param name="Photo">Whether a photo of it is kept.</param>
internal sealed record FailureItem(string Reason, int Tries, bool Photo)
{
    internal static FailureItem? Of(PrintFailure? failure) => failure is null ? null : new(failure.Reason, failure.Tries, failure.PhotoName is not null);
}

/// <summary>What a plan asks.</summary>
/// <param name="Questions">Every question that there is.</param>
/// <param name="Materials">The materials' names.</param>
/// <param name="ReferenceMaterial">The material that the others are compared with; null for all pairs.</param>
/// <param name="KeepsPercent">How many per cent of the reference setting's strength is asked to be kept.</param>
internal sealed record QuestionsView(IReadOnlyList<QuestionItem> Questions, IReadOnlyList<string> Materials, string? ReferenceMaterial, double KeepsPercent)
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
        _ => question,
    };
}

/// <summary>One question.</summary>
/// <param name="Name">Its name, as everywhere.</param>
/// <param name="Words">What it asks.</param>
/// <param name="Asked">Whether the plan asks it.</param>
internal sealed record QuestionItem(string Name, string Words, bool Asked);
