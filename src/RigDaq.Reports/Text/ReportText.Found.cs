using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>What was found over all settings and materials, in one paragraph, and the table of answers.</content>
internal static partial class ReportText
{
    public const string AnswersCaption = "Answers";
    public const string QuestionColumn = "question";
    public const string AdjustedColumn = "p, adjusted";
    public const string AnswerVerdictColumn = "answer";
    public const string AnswerWhereColumn = "of";
    public const string AboutColumn = "about";
    public const string SeenAfterwardsMark = " *";

    public static string AnswerSettings(string from, string to) => $"{to} against {from}";

    public static string AnswerPair(string first, string second) => $"{first} against {second}";

    public static string CountOfTotal(int count, int total) => $"{count} of {total}";

    public static string AnswersNote(ComparisonAnswer answer, double confidencePercent) =>
        $"Change: geometric means, in per cent of the second, with the {Number(confidencePercent)} % interval, not adjusted; a share is in per cent or points. p: adjusted for all answers of its kind (Holm; Dunnett with a reference material)."
        + (answer.Answers.Any(a => a.Question == QuestionNames.Share) ? " Of two manners the other one's share is what is left of 100 %." : "")
        + (answer.Answers.Any(a => a.SeenAfterwards) ? " * seen afterwards: not in the frozen plan." : "")
        + (answer.Answers.Any(a => a.Imported > 0) ? ImportedMarkNote : "")
        + (answer.Model is { } model ? " " + ModelWords(model) : "");

    /// <summary>What a condition does across the settings: at both ends, on average, and whether that changes.</summary>
    public static string FoundCondition(IReadOnlyList<QuestionAnswer> across, QuestionAnswer? average, QuestionAnswer? trend, string unit, string settingName)
    {
        QuestionAnswer first = across[0], last = across[^1];
        string pair = $"{first.Condition} against {first.AgainstCondition}";
        string ends = across.Count == 1
            ? $"{Change(first)}{At(first)}"
            : $"{Change(first)}{At(first)} and {Change(last)}{At(last)}";
        string mean = across.Count > 1 && average is not null ? $", on average {Change(average)}: {Judged(average)}" : $": {Judged(first)}";
        string change = trend is null ? "" : trend.Verdict == Verdicts.Different
            ? $" What it does changes with the {settingName} ({Change(trend)} from one end to the other)."
            : "";
        return $"{first.Material}: {pair} {ends}{mean}.{change}";

        string At(QuestionAnswer answer) => answer.Setting is null ? "" : $" at {GroupKey.SettingText(answer.Setting, unit)}";
    }

    public static string FoundMaterials(string condition, IReadOnlyList<QuestionAnswer> pairs)
    {
        string place = condition.Length == 0 ? "" : $"With {condition}, ";
        string said = string.Join("; ", pairs.Select(a => a.Verdict switch
        {
            Verdicts.Different => $"{(a.Percent > 0 ? a.Material : a.AgainstMaterial)} is stronger than {(a.Percent > 0 ? a.AgainstMaterial : a.Material)} by {Amount(a.Percent > 0 ? a.Percent!.Value : Turned(a.Percent!.Value), a.Percent > 0 ? a.PercentLow!.Value : Turned(a.PercentHigh!.Value), a.Percent > 0 ? a.PercentHigh!.Value : Turned(a.PercentLow!.Value))}",
            Verdicts.Equivalent => $"{a.Material} and {a.AgainstMaterial} are equally strong within the margin ({Change(a)})",
            _ => $"no difference between {a.Material} and {a.AgainstMaterial} was shown ({Change(a)})",
        }));
        string sentence = $"{place}{said}, averaged over the settings of both.";
        return char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }

    public static string FoundDropOffs(IReadOnlyList<QuestionAnswer> faster, string unit) => string.Join(" ", faster.Select(a =>
        $"From {GroupKey.SettingText(a.AgainstSetting, unit)} to {GroupKey.SettingText(a.Setting, unit)}, {a.Condition}: {(a.Percent < 0 ? a.Material : a.AgainstMaterial)} "
        + $"falls behind {(a.Percent < 0 ? a.AgainstMaterial : a.Material)} ({Change(a)} for {a.Material})."));

    public static string FoundKeeps(IReadOnlyList<QuestionAnswer> keeps, double percent, string unit) =>
        $"At least {Number(percent)} % of the strength is kept: " + string.Join("; ", keeps.Select(a => $"{a.Material}, {a.Condition} to {GroupKey.SettingText(a.Setting, unit)}")) + ".";

    public static string FoundNotPrintable(string material, string setting, int failed, int prints, IReadOnlyList<string> reasons) =>
        $"{material} could not be printed{(setting.Length > 0 ? " at " + setting : "")} ({failed} of {prints} {(prints == 1 ? "print" : "prints")}: {string.Join("; ", reasons)}).";

    /// <summary>The caveat that all of it shares, once.</summary>
    public static string FoundScope(IReadOnlyList<QuestionAnswer> answers, QuestionModel? model, double confidencePercent)
    {
        bool some = answers.Any(a => a.About == Abouts.ThesePrints), alike = answers.Any(a => a.About == Abouts.PrintsMadeAlike);
        string scope = (some, alike) switch
        {
            (true, false) => " All of this concerns the prints that were broken; other prints made alike may differ.",
            (true, true) => " Where a material and condition had one print only, it concerns that print; the rest holds for prints made alike.",
            (false, true) => " It holds for prints made alike.",
            _ => "",
        };
        return answers.Count == 0 ? "" : $"In brackets: {Number(confidencePercent)} % intervals.{scope}";
    }

    private static string ModelWords(QuestionModel model)
    {
        string[] parts = [.. new[]
        {
            (Name: "prints", Value: model.PrintStandardDeviationPercent), (Name: "stretches", Value: model.PrintSettingStandardDeviationPercent),
            (Name: "specimens", Value: model.SpecimenStandardDeviationPercent),
        }.Where(part => part.Value is not null).Select(part => $"{part.Name} {Number(part.Value!.Value, 1)} %")];
        string from = model.PrintScatterFrom == ScatterSources.EarlierStudies
            ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $" Prints and stretches by the earlier studies ({model.PrintDegreesOfFreedom:0} degrees of freedom between prints).") : "";
        return parts.Length == 0 ? "" : $"Scatter by the model: {string.Join(", ", parts)}; {model.Prints} prints; degrees of freedom by {model.DegreesOfFreedomMethod}.{from}";
    }

    private static string Judged(QuestionAnswer answer) => answer.Verdict switch
    {
        Verdicts.Different => answer.Percent > 0 ? $"{answer.Condition} is stronger" : $"{answer.Condition} is weaker",
        Verdicts.Equivalent => "no difference beyond the margin",
        _ => answer.PercentLow > 0 || answer.PercentHigh < 0 ? "no difference was shown (it would stand out alone, but not among all answers of its kind)" : "no difference was shown",
    };

    private static string Change(QuestionAnswer answer) => Amount(answer.Percent!.Value, answer.PercentLow!.Value, answer.PercentHigh!.Value, signed: true);

    private static string Amount(double percent, double low, double high, bool signed = false)
    {
        var (value, from, to) = NumberText.Of(percent, low, high);
        return signed ? $"{Plus(value)} % ({Plus(from)} to {Plus(to)} %)" : $"{value} % ({from} to {to} %)";
    }

    /// <summary>The change seen from the other side: 25 % more is 20 % less.</summary>
    private static double Turned(double percent) => 100 * ((100 / (100 + percent)) - 1);
}
