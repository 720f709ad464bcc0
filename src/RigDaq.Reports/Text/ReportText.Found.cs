using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;

namespace RigDaq.Reports.Text;

/// <content>What was found, what was changed afterwards, and where an uncertainty comes from.</content>
internal static partial class ReportText
{
    // What was found over all settings and materials, in one paragraph, and the table of answers.

    public const string SeenAfterwardsMark = " *";

    public static string AnswersNote(ComparisonAnswer answer, double confidencePercent) =>
        AnswersNoteText(Number(confidencePercent), answer.Answers.Any(a => a.Question == QuestionNames.Share),
            answer.Answers.Any(a => a.SeenAfterwards), answer.Answers.Any(a => a.Imported > 0), answer.Model is { } model
            ? " " + ModelWords(model) : "");

    /// <summary>What a condition does across the settings: at both ends, on average, and whether that changes.</summary>
    public static string FoundCondition(IReadOnlyList<QuestionAnswer> across, QuestionAnswer? average, QuestionAnswer? trend, string unit,
        string settingName)
    {
        QuestionAnswer first = across[0], last = across[^1];
        string pair = FoundConditionText(first.Condition, first.AgainstCondition);
        string ends = across.Count == 1
            ? $"{Change(first)}{At(first)}"
            : FoundFromFirstToLast(Change(first), At(first), Change(last), At(last));
        string mean = across.Count > 1 && average is not null ? FoundOnAverage(Change(average), Judged(average)) : $": {Judged(first)}";
        string change = trend is null ? "" : trend.Verdict == Verdicts.Different ? FoundTrend(settingName, Change(trend)) : "";
        return $"{first.Material}: {pair} {ends}{mean}.{change}";

        string At(QuestionAnswer answer) => answer.Setting is null ? "" : FoundAtSetting(GroupKey.SettingText(answer.Setting, unit));
    }

    public static string FoundMaterials(string condition, IReadOnlyList<QuestionAnswer> pairs)
    {
        string place = condition.Length == 0 ? "" : FoundMaterialsText(condition);
        string said = string.Join("; ", pairs.Select(a => a.Verdict switch
        {
            Verdicts.Different => FoundMaterialsDifferent(a.Percent > 0, a.Material, a.AgainstMaterial,
                a.Percent > 0, Amount(a.Percent > 0 ? a.Percent!.Value : Turned(a.Percent!.Value), a.Percent > 0 ? a.PercentLow!.Value
                : Turned(a.PercentHigh!.Value), a.Percent > 0 ? a.PercentHigh!.Value : Turned(a.PercentLow!.Value))),
            Verdicts.Equivalent => FoundMaterialsEquivalent(a.Material, a.AgainstMaterial, Change(a)),
            _ => FoundMaterialsNotResolved(a.Material, a.AgainstMaterial, Change(a)),
        }));
        string sentence = FoundMaterialsAveraged(place, said);
        return char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }

    public static string FoundDropOffs(IReadOnlyList<QuestionAnswer> faster, string unit) => string.Join(" ", faster.Select(a =>
        FoundDropOffsPartText(GroupKey.SettingText(a.AgainstSetting, unit), GroupKey.SettingText(a.Setting, unit), a.Condition,
            a.Percent < 0, a.Material, a.AgainstMaterial, a.Percent < 0, Change(a))));

    public static string FoundKeeps(IReadOnlyList<QuestionAnswer> keeps, double percent, string unit) => FoundKeepsText(Number(percent),
        keeps.Select(a => FoundKeepsPartText(a.Material, a.Condition, GroupKey.SettingText(a.Setting, unit))));

    public static string FoundNotPrintable(string material, string setting, int failed, int prints, IReadOnlyList<string> reasons) =>
        FoundNotPrintableText(material, setting.Length > 0, setting, failed, prints, reasons);

    /// <summary>The caveat that all of it shares, once.</summary>
    public static string FoundScope(IReadOnlyList<QuestionAnswer> answers, QuestionModel? model, double confidencePercent)
    {
        bool some = answers.Any(a => a.About == Abouts.ThesePrints), alike = answers.Any(a => a.About == Abouts.PrintsMadeAlike);
        string scope = (some, alike) switch
        {
            (true, false) => FoundScopeText,
            (true, true) => FoundScopeOfSomeOnePrint,
            (false, true) => FoundScopeOfPrintsMadeAlike,
            _ => "",
        };
        return answers.Count == 0 ? "" : FoundScopeWhole(Number(confidencePercent), scope);
    }

    private static string ModelWords(QuestionModel model)
    {
        string[] parts = [.. new[]
        {
            (Name: ModelWordsText, Value: model.PrintStandardDeviationPercent),
                (Name: ModelStretches, Value: model.PrintSettingStandardDeviationPercent),
            (Name: ModelSpecimens, Value: model.SpecimenStandardDeviationPercent),
        }.Where(part => part.Value is not null).Select(part => $"{part.Name} {Number(part.Value!.Value, 1)} %")];
        string from = model.PrintScatterFrom == ScatterSources.EarlierStudies ? ModelPrintsOfEarlier(model.PrintDegreesOfFreedom) : "";
        return parts.Length == 0 ? "" : ModelWhole(parts, model.Prints, model.DegreesOfFreedomMethod, from);
    }

    private static string Judged(QuestionAnswer answer) => answer.Verdict switch
    {
        Verdicts.Different => JudgedDifferentText(answer.Percent > 0, answer.Condition),
        Verdicts.Equivalent => JudgedEquivalentText,
        _ => JudgedOtherwiseText(answer.PercentLow > 0 || answer.PercentHigh < 0),
    };

    private static string Change(QuestionAnswer answer) =>
        Amount(answer.Percent!.Value, answer.PercentLow!.Value, answer.PercentHigh!.Value, signed: true);

    private static string Amount(double percent, double low, double high, bool signed = false)
    {
        var (value, from, to) = NumberText.Of(percent, low, high);
        return signed ? AmountText(Plus(value), Plus(from), Plus(to)) : AmountInPercent(value, from, to);
    }

    /// <summary>The change seen from the other side: 25 % more is 20 % less.</summary>
    private static double Turned(double percent) => 100 * ((100 / (100 + percent)) - 1);

    // What was changed afterwards, and what the eye saw.

    public static string PlanChanged(string change, DateTimeOffset at, string reason) =>
        PlanChangedText(Moment(at), change, reason.Length > 0, reason);

    /// <summary>"strength 31.24 → 30.98 MPa"; "left out – → slip: it slid".</summary>
    public static string ChangeWords(RunChange change, Units units)
    {
        string name = NameOf(change.Kind);
        if (change.Kind == RunChangeKind.Nothing) return name;
        if (!change.IsFigure) return $"{name}: {OrNone(change.From)} → {OrNone(change.To)}";
        (Unit unit, int decimals) = change.Kind switch
        {
            RunChangeKind.Strength => (units.Stress, 2),
            RunChangeKind.Section => (units.Area, 3),
            _ => (units.Force, 2),
        };
        return $"{name} {Figure(change.FromValue)} → {Figure(change.ToValue)} {unit.Symbol}";

        string Figure(double? value) => value is { } number ? unit.Figure(number, decimals) : None;
    }

    /// <summary>The same change of many runs: "strength by −0.4 to +0.1 %; calibration".</summary>
    public static string ChangesTogether(IReadOnlyList<RunChange> changes)
        => string.Join("; ", changes.GroupBy(change => change.Kind).Select(kind =>
    {
        string name = NameOf(kind.Key);
        double[] shares = [.. kind.Where(change => change is { FromValue: > 0, ToValue: not null })
            .Select(change => 100 * ((change.ToValue!.Value / change.FromValue!.Value) - 1))];
        if (shares.Length > 0) return ChangesTogetherPartText(name, Plus(Number(shares.Min(), 2)), Plus(Number(shares.Max(), 2)));
        string[] words = [.. kind.Select(change => $"{OrNone(change.From)} → {OrNone(change.To)}").Distinct()];
        return words.Length == 1 && kind.Key != RunChangeKind.Nothing ? $"{name}: {words[0]}" : name;
    }));

    /// <summary>What the trace and the eye say of a break.</summary>
    public static string FractureWords(Run run) =>
        string.Join("; ", new[] { run.Reading?.Fracture?.Spoken() ?? "", run.Look?.Words() ?? "" }.Where(part => part.Length > 0))
            is { Length: > 0 } words ? words : None;

    private static string OrNone(string text) => text.Length == 0 ? None : text;

    // Where the uncertainty of one strength comes from.

    public static string OriginsNote(UncertaintyOrigins origins) =>
        OriginsNoteText(origins.ForceNewtons, NumberText.Significant(origins.ExpandedPercent, 2));

    public static string OriginsDescription(UncertaintyOrigins origins)
        => OriginsDescriptionText(origins.ForceNewtons, NumberText.Significant(origins.ExpandedPercent, 2),
        origins.Origins
        .Select(origin =>
        FormattableString.Invariant($"{(origin.IsAssumed ? OriginAssumed(origin.Name) : origin.Name)} {origin.SharePercent:0.#} %")));

    public static string OriginsOfRun(string specimen, string strength, string expanded, double percent) =>
        OriginsOfRunText(specimen, strength, expanded, NumberText.Significant(percent, 2));

    public static string OriginGain(string advice, double percent) => $"{advice}: ± {NumberText.Significant(percent, 2)} %";

    public static string StageShare(UncertaintyStage stage) => $"{Stage(stage)}, %";

    public static string Stage(UncertaintyStage stage) => stage switch
    {
        UncertaintyStage.Calibration => StageCalibrationText,
        UncertaintyStage.Zero => StageZeroText,
        UncertaintyStage.Peak => StagePeakText,
        UncertaintyStage.Section => StageSectionText,
        UncertaintyStage.Caliper => StageCaliperText,
        UncertaintyStage.Alignment => StageAlignmentText,
        _ => stage.ToString(),
    };
}
