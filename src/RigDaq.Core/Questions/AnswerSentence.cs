using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>An answer in words that may be published as they stand.</summary>
internal static class AnswerSentence
{
    /// <summary>The sentence of a contrast.</summary>
    /// <param name="answer">With its figures and verdict.</param>
    /// <param name="settings">How many settings it runs over.</param>
    /// <param name="family">How many answers share its adjustment.</param>
    /// <param name="context">What it comes from.</param>
    public static string Of(QuestionAnswer answer, int settings, int family, AnswerContext context)
    {
        ComparisonOptions options = context.Options;
        string place = Place(answer, options);
        if (answer.Percent is not { } percent || answer.PercentLow is not { } low || answer.PercentHigh is not { } high)
            return CoreText.AnswerNone(place, Subject(answer, settings, options));
        AnswerAmount amount = AnswerAmount.Of(percent, low, high, Confidence(options), answer.Verdict != Verdicts.Different);
        SubjectNames subject = Subject(answer, settings, options);
        string margin = Margin(options);
        bool within = answer.Verdict == Verdicts.Different && answer.PEquivalence < options.Alpha;
        bool alone = answer.Verdict == Verdicts.NotResolved && answer.P < options.Alpha;
        string statement = answer.Verdict switch
        {
            Verdicts.Different => Different(answer, settings, percent > 0, amount, options)
                + (within ? CoreText.VerdictWithinMargin(margin) : ""),
            Verdicts.Equivalent => CoreText.AnswerEquivalent(subject, margin, amount),
            _ => CoreText.AnswerNotResolved(subject, amount) + (alone ? CoreText.AnswerAloneOnly(family) : ""),
        };
        return CoreText.Answer(place, statement, Scope(answer, context));
    }

    /// <summary>What the answer is about: material, condition, setting.</summary>
    public static string Place(QuestionAnswer answer, ComparisonOptions options)
    {
        bool settingInPlace = answer.Question is QuestionNames.Condition or QuestionNames.Material or QuestionNames.EarlierStudy
            or QuestionNames.Share or QuestionNames.NotPrintable;
        return string.Join(", ", new[]
        {
            answer.AgainstMaterial is null ? answer.Material : null,
            answer.AgainstCondition is null ? answer.Condition : null,
            settingInPlace ? GroupKey.SettingText(answer.Setting, options.SettingUnit) : null,
        }.Where(part => !string.IsNullOrEmpty(part)));
    }

    /// <summary>Whose prints the answer speaks of.</summary>
    public static string Scope(QuestionAnswer answer, AnswerContext context)
    {
        if (answer.About == Abouts.ThesePrints) return CoreText.AnswerAboutThesePrints;
        QuestionModel model = context.Said();
        bool isStated = model.PrintScatterFrom == ScatterSources.Stated;
        return CoreText.AnswerAboutPrintsMadeAlike(answer.Prints ?? [], isStated
            || (context.Model is null && model.PrintScatterFrom is not null) ? isStated : null);
    }

    public static string Confidence(ComparisonOptions options) => options.ConfidencePercent.ToString("0.##", CultureInfo.InvariantCulture);

    public static string Margin(ComparisonOptions options) => NumberText.Of(options.MarginPercent, options.MarginPercent % 1 == 0 ? 0 : 1);

    private static (string First, string Second) Names(QuestionAnswer answer) => answer.AgainstMaterial is { } material
        ? (answer.Material!, material)
        : (answer.Condition!, answer.AgainstCondition ?? "");

    private static string Setting(decimal? setting, ComparisonOptions options) => GroupKey.SettingText(setting, options.SettingUnit);

    private static string Different(QuestionAnswer answer, int settings, bool more, AnswerAmount amount, ComparisonOptions options)
    {
        (string first, string second) = Names(answer);
        (string at, string from) = (Setting(answer.Setting, options), Setting(answer.AgainstSetting, options));
        return answer.Question switch
        {
            QuestionNames.ConditionTrend => CoreText.AnswerTrend(first, second, from, at, answer.Form == TrendForms.Slope ? settings : null,
                more, amount),
            QuestionNames.DropOff => CoreText.AnswerDropOff(at, from, more, amount),
            QuestionNames.DropOffDifference => CoreText.AnswerDropOffDifference(first, second, from, at, more, amount),
            QuestionNames.ConditionAverage or QuestionNames.MaterialAverage =>
                CoreText.AnswerAverage(first, second, settings, more, amount),
            _ => CoreText.AnswerStronger(first, second, more, amount),
        };
    }

    private static AnswerSubject Kind(QuestionAnswer answer) => answer.Question switch
    {
        QuestionNames.ConditionTrend => AnswerSubject.Trend,
        QuestionNames.DropOff => AnswerSubject.DropOff,
        QuestionNames.DropOffDifference => AnswerSubject.DropOffDifference,
        QuestionNames.ConditionAverage or QuestionNames.MaterialAverage => AnswerSubject.Average,
        _ => AnswerSubject.Plain,
    };

    private static SubjectNames Subject(QuestionAnswer answer, int settings, ComparisonOptions options)
    {
        (string first, string second) = Names(answer);
        return new SubjectNames(Kind(answer), first, second, Setting(answer.Setting, options), Setting(answer.AgainstSetting, options),
            answer.Question == QuestionNames.ConditionTrend && answer.Form != TrendForms.Slope ? null : settings);
    }
}
