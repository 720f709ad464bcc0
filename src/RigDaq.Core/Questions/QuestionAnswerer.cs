using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Questions;

/// <summary>What a table says to the questions that people ask.</summary>
/// <param name="Model">The model behind the answers; null where no strength can enter it.</param>
/// <param name="Answers">In the order of <see cref="QuestionNames.All"/>.</param>
/// <param name="Warnings">In whole sentences.</param>
public sealed record QuestionAnswers(QuestionModel? Model, IReadOnlyList<QuestionAnswer> Answers, IReadOnlyList<Sentence> Warnings);

/// <summary>Answers the questions. Definitions: docs/statistics.md.</summary>
public static class QuestionAnswerer
{
    /// <summary>The most answers of one question; with more, the question is left out with a warning.</summary>
    public const int AnswersMax = 5000;

    /// <summary>Answers.</summary>
    /// <param name="observations">Finite strengths; the order of first appearance is kept.</param>
    /// <param name="options">How.</param>
    /// <param name="failed">Stretches that could not be printed; null for none.</param>
    /// <exception cref="ArgumentException">An option is out of its range.</exception>
    public static QuestionAnswers Answer(IReadOnlyList<Observation> observations, ComparisonOptions options,
        IReadOnlyList<FailedStretch>? failed = null)
    {
        options.Check();
        failed ??= [];
        // Whoever asks nothing waits for no model.
        if (options.Questions is { Count: 0 }) return new QuestionAnswers(null, [], []);
        var warnings = new List<Sentence>();
        var answers = new List<QuestionAnswer>();
        AnswerContext? context = AnswerContext.Of(observations, options, warnings);
        foreach (string question in QuestionNames.All.Where(q => options.Questions is null || options.Questions.Contains(q)))
        {
            IEnumerable<QuestionAnswer> found = question == QuestionNames.NotPrintable
                ? NotPrintableQuestion.Of(observations, failed, options) : context is null ? [] : Answer(question, observations, context);
            QuestionAnswer[] all = [.. found.Take(AnswersMax + 1)];
            if (all.Length <= AnswersMax) answers.AddRange(all);
            else warnings.Add(CoreText.AnswersTooMany(question, AnswersMax));
        }

        if (context is not null) ScatterWarning.Add(context);

        return new QuestionAnswers(context?.Said(), context is null ? answers : ImportedMark.On(answers, context),
            [.. warnings.Distinct()]);
    }

    private static IEnumerable<QuestionAnswer> Answer(string question, IReadOnlyList<Observation> observations, AnswerContext context)
        => question switch
        {
            QuestionNames.Keeps => new KeepsQuestion(context).All(),
            QuestionNames.BestSettings => new BestSettingsQuestion(context).All(),
            QuestionNames.EquivalenceProfile => ProfileQuestion.Of(context),
            QuestionNames.EarlierStudy => EarlierQuestion.Of(context),
            QuestionNames.Share => new ShareQuestion(observations, context).All(),
            _ => Contrasts(question, context),
        };

    private static IReadOnlyList<QuestionAnswer> Contrasts(string question, AnswerContext context)
    {
        Asked[] asked = [.. new ContrastQuestions(context).Of(question).Take(AnswersMax + 1)];
        if (asked.Length > AnswersMax)
        {
            context.Warnings.Add(CoreText.AnswersTooMany(question, AnswersMax));
            return [];
        }

        IReadOnlyList<QuestionAnswer> found = AnswerFinisher.Finish(
            [.. asked.SelectMany(a => context.AnswerersOf(a.Contrast).Select(by => new Drafted(a, by, by.Of(a.Contrast))))], context);
        return question == QuestionNames.DropOff ? [.. found, .. new ContrastQuestions(context).WithoutReference()] : found;
    }
}
