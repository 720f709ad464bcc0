using System.Globalization;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class ReportText
{
    // Calibrations and traces.

    public static string ReferenceAxis(Units units) => ReferenceAxisText(units.Force.Symbol);

    public static string ForceAxis(Units units) => ForceAxisText(units.Force.Symbol);

    public static string ClassWords(CalibrationClass given, Units units) =>
        ClassWordsText(Number(given.Value), units.Force.Text(given.FromNewtons, 1), units.Force.Text(given.ToNewtons, 1), given.Qualified);

    public static string ExpandedWords(double leastPercent, double greatestPercent) =>
        greatestPercent - leastPercent < 0.005 ? ExpandedWordsText(Number(greatestPercent, 2))
            : ExpandedWordsText2(Number(leastPercent, 2), Number(greatestPercent, 2));

    public static string GreatestForceWords(double peakNewtons, double? expandedNewtons, double referenceNewtons, Units units)
    {
        string peak = units.Force.Text(peakNewtons, expandedNewtons, 1);
        double ratio = peakNewtons / referenceNewtons;
        return ratio <= 1
            ? GreatestForceWordsText(peak)
            : GreatestForceWordsText2(peak, Number(ratio, 1));
    }

    public static string CurveWords(CalibrationRecord calibration) =>
        CurveWordsText(calibration.Curve.Coefficients.Select((coefficient, i) =>
            CurveWordsPartText(coefficient.ToString("0.#####E+0", System.Globalization.CultureInfo.InvariantCulture), i == 0 ? "" : i == 1
                ? "²" : "³")));

    public static string ResidualDescription(int points, double worstPercent) =>
        ResidualDescriptionText(points, Number(worstPercent, 2));

    public static string DirectionWords(LoadDirection direction, int count) =>
        DirectionWordsText(direction == LoadDirection.Rising, count);

    public static string SignedFine(double value) => Math.Abs(value) < 1e-9 ? "0" : Plus(Number(value));

    public static string TracesLegend(string condition, int shown, int all) =>
        TracesLegendText(condition.Length > 0, condition, shown, shown < all, all);

    // The words on the pictures of channels besides the force.

    public static string ChannelKind(string kind) => kind switch
    {
        ChannelHead.Force => ChannelKindForceText,
        ChannelHead.Extension => ChannelKindExtensionText,
        ChannelHead.Temperature => ChannelKindTemperatureText,
        _ => ChannelKindOtherwiseText,
    };

    public static string ChannelTitle(string name, string channel) => $"{name}: {channel}";

    public static string ChannelAxis(string channel, string unit) => ChannelAxisText(unit.Length > 0, channel, unit);

    public static string StressAxis(Units units) => StressAxisText(units.Stress.Symbol);

    public static string ExtensionAxis(Units units) => ExtensionAxisText(units.Length.Symbol);

    // What stands above the columns of tables.

    public static string MeanColumn(Units units) => In(MeanColumnPartText, units.Stress);

    public static string IntervalColumn(Units units) => In(IntervalColumnPartText, units.Stress);

    public static string DeviationColumn(Units units) => In(DeviationColumnPartText, units.Stress);

    public static string AbsoluteIntervalColumn(Units units) => In(AbsoluteIntervalColumnPartText, units.Stress);

    public static string CalibrationShareColumn(Units units) => In(CalibrationShareColumnPartText, units.Stress);

    public static string MedianColumn(Units units) => In(MedianColumnPartText, units.Stress);

    public static string RangeColumn(Units units) => In(RangeColumnPartText, units.Stress);

    public static string MeanWithLeftOutColumn(Units units) => In(MeanWithLeftOutColumnPartText, units.Stress);

    public static string DifferenceColumn(Units units) => In(DifferenceColumnPartText, units.Stress);

    public static string ResolvableColumn(Units units) => In(ResolvableColumnPartText, units.Stress);

    public static string PeakColumn(Units units) => In(PeakColumnPartText, units.Force);

    public static string SectionColumn(Units units) => In(SectionColumnPartText, units.Area);

    public static string StrengthColumn(Units units) => In(StrengthColumnPartText, units.Stress);

    public static string UncertaintyColumn(Units units) => In("± (k\u00a0=\u00a02)", units.Stress);

    public static string ReferenceForceColumn(Units units) => In(ReferenceForceColumnPartText, units.Force);

    private static string In(string name, Unit unit) => $"{name}, {unit.Symbol}";

    // What extensions hold of the machine itself.

    /// <summary>Of the readings that have an extension; null where none has.</summary>
    public static string? ComplianceInWords(IEnumerable<TraceReading> readings, Units units)
    {
        TraceReading[] extended = [.. readings.Where(reading => reading.ExtensionAtPeakMillimetres is not null)];
        if (extended.Length == 0) return null;
        string[] taken = [.. extended.Where(reading => reading.ComplianceMillimetresPerNewton is not null)
            .Select(reading => ComplianceInWordsText(units.Give.Text(1000 * reading.ComplianceMillimetresPerNewton!.Value, 3),
                reading.ComplianceId is { } id ? ComplianceInWordsPartText(id) : "")).Distinct()];
        int without = extended.Count(reading => reading.ComplianceMillimetresPerNewton is null);
        string left = without == 0 ? "" : taken.Length == 0 ? ComplianceInWordsText2 : ComplianceInWordsText3(without);
        return string.Join("; ", taken.Append(left).Where(words => words.Length > 0));
    }

    // Retained strength and the check weight.

    public static string RetainedTitle(string material, Study study) => RetainedTitleText(material, study.SettingName);

    public static string RetainedNote(double confidencePercent) => RetainedNoteText(Number(confidencePercent));

    public static string ControlAxis(DateTimeOffset first, DateTimeOffset last) => ControlAxisText(Day(first), Day(last));

    // Earlier studies and the control.

    public const string ImportedMark = " †";

    public static string EarlierTitle(IReadOnlyList<string> studies) => studies.Count == 1 ? EarlierTitleText(studies[0])
        : EarlierTitleText2;

    public static string EarlierRow(QuestionAnswer row, string unit, int n, bool several)
    {
        string at = row.Setting is null ? EarlierRowText : GroupKey.SettingText(row.Setting, unit);
        string group = string.Join(", ", new[] { row.Material!, row.Condition!, at }.Where(part => part.Length > 0));
        return EarlierRowText2(group, several, row.AgainstStudy, n, row.CorrectedByControl == true);
    }

    public static string EarlierFigure(QuestionAnswer row)
    {
        var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
        string verdict = row.Verdict switch
        {
            Verdicts.Different => EarlierFigureText,
            Verdicts.Equivalent => EarlierFigureText2,
            _ => EarlierFigureText3
        };
        return EarlierFigureText4(Plus(value), Plus(low), Plus(high), verdict);
    }

    public static string EarlierNote(IReadOnlyList<QuestionAnswer> rows, double confidencePercent, double marginPercent) =>
        EarlierNoteText(ChangeNote(confidencePercent, marginPercent), rows.Any(row => row.Imported > 0));

    /// <summary>One sentence for the paragraph that begins the report.</summary>
    public static string FoundEarlier(string study, IReadOnlyList<QuestionAnswer> rows, string unit)
    {
        string said = string
            .Join("; ",
            rows.Select(a =>
            $"{string.Join(", ", new[] { a.Material!, a.Condition!, a.Setting is null ? FoundEarlierText : GroupKey.SettingText(a.Setting, unit) }.Where(p => p.Length > 0))} "
            + a.Verdict switch
            {
                Verdicts.Different => FoundEarlierText2(a.Percent > 0, Change(a)),
                Verdicts.Equivalent => FoundEarlierText3(Change(a)),
                _ => FoundEarlierText4(Change(a)),
            } + (a.Imported > 0 ? FoundEarlierText5 : "")));
        return FoundEarlierText6(study, said, rows.Any(row => row.CorrectedByControl == true));
    }

    public static string EarlierWords(EarlierResult earlier)
    {
        int strengths = earlier.Stretches.Sum(s => s.Megapascals.Count), imported = earlier.Stretches.Sum(s => s.Imported);
        string[] calibrations = [.. earlier.Stretches.SelectMany(s => s.Calibrations).Select(c => c.Id).Distinct()];
        string pooled = earlier.PooledBecause is { } why ? EarlierWordsText(why) : "";
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{earlier.Title}: {Counted(strengths, EarlierWordsText2)}")
            + (imported > 0 ? EarlierWordsText3(imported) : "")
                + (calibrations.Length > 0 ? EarlierWordsText4(calibrations) : EarlierWordsText5) + pooled;
    }

    public static string PooledShort(int strengths, string study) => PooledShortText(Counted(strengths, PooledShortPartText), study);

    public static string SessionsTick(ControlPoint point) => SessionsTickText(point.At is { } at ? Day(at) : "", point.StudyId, point.N);

    public static string SessionsNote(ControlHistory history)
        => SessionsNoteText(history.LowerMegapascals is null, ControlHistory.BaselineSessions, history.Points.Any(p => p.Imported > 0),
        history.Simulated);

    public static string SessionsDescription(ControlHistory history, Units units) =>
        string.Join("; ",
            history.Points.Select(p =>
            $"{(p.At is { } at ? Day(at) : "")} {p.StudyId}: {units.Stress.Text(p.MeanMegapascals, p.HighMegapascals - p.MeanMegapascals, 1)}")) + $". {history.Sentence}";

    // Names of facts and what goes with them.

    public static string Degrees(double celsius, int decimals) => DegreesText(Number(celsius, decimals));

    public static string Chamber(double celsius) => ChamberText(Number(celsius));

    public static string PrinterSettingWords(PrinterSetting setting) => $"{setting.Name} {setting.Value}";

    public static string WeightWords(Weight weight) => WeightWordsText(weight.Name, Number(weight.MassKilograms));

    /// <summary>Several values of one quantity, each once: "0.25, 0.5 mm/s".</summary>
    public static string Values(IEnumerable<double> stored, Unit unit) =>
        string.Join(", ", stored.Distinct().Order().Select(value => unit.IsStored ? Number(value) : Number(unit.Of(value)))) + " "
            + unit.Symbol;

    /// <summary>Null in the units that everything is kept in.</summary>
    public static string? UnitWords(Units units)
    {
        string[] converted = [.. new[] { units.Force, units.Stress, units.Length }.Where(unit => !unit.IsStored)
            .Select(unit => unit.Symbol switch
        {
            "kgf" => UnitWordsText,
            "lbf" => UnitWordsText2,
            "psi" => UnitWordsText3,
            "in" => UnitWordsText4,
            _ => throw new ArgumentOutOfRangeException(nameof(units), unit.Symbol, null),
        })];
        return converted.Length == 0 ? null : UnitWordsText5(converted);
    }

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
            : FoundConditionText2(Change(first), At(first), Change(last), At(last));
        string mean = across.Count > 1 && average is not null ? FoundConditionText3(Change(average), Judged(average))
            : $": {Judged(first)}";
        string change = trend is null ? "" : trend.Verdict == Verdicts.Different
            ? FoundConditionText4(settingName, Change(trend))
            : "";
        return $"{first.Material}: {pair} {ends}{mean}.{change}";

        string At(QuestionAnswer answer) => answer.Setting is null ? "" : FoundConditionText5(GroupKey.SettingText(answer.Setting, unit));
    }

    public static string FoundMaterials(string condition, IReadOnlyList<QuestionAnswer> pairs)
    {
        string place = condition.Length == 0 ? "" : FoundMaterialsText(condition);
        string said = string.Join("; ", pairs.Select(a => a.Verdict switch
        {
            Verdicts.Different
                => FoundMaterialsText2(a.Percent > 0, a.Material, a.AgainstMaterial, a.Percent > 0,
                Amount(a.Percent > 0 ? a.Percent!.Value : Turned(a.Percent!.Value), a.Percent > 0 ? a.PercentLow!.Value
                : Turned(a.PercentHigh!.Value), a.Percent > 0 ? a.PercentHigh!.Value : Turned(a.PercentLow!.Value))),
            Verdicts.Equivalent => FoundMaterialsText3(a.Material, a.AgainstMaterial, Change(a)),
            _ => FoundMaterialsText4(a.Material, a.AgainstMaterial, Change(a)),
        }));
        string sentence = FoundMaterialsText5(place, said);
        return char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }

    public static string FoundDropOffs(IReadOnlyList<QuestionAnswer> faster, string unit) => string.Join(" ", faster.Select(a =>
        FoundDropOffsPartText(GroupKey.SettingText(a.AgainstSetting, unit), GroupKey.SettingText(a.Setting, unit), a.Condition,
            a.Percent < 0, a.Material, a.AgainstMaterial, a.Percent < 0, Change(a))));

    public static string FoundKeeps(IReadOnlyList<QuestionAnswer> keeps, double percent, string unit) =>
        FoundKeepsText(Number(percent),
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
            (true, true) => FoundScopeText2,
            (false, true) => FoundScopeText3,
            _ => "",
        };
        return answers.Count == 0 ? "" : FoundScopeText4(Number(confidencePercent), scope);
    }

    private static string ModelWords(QuestionModel model)
    {
        string[] parts = [.. new[]
        {
            (Name: ModelWordsText, Value: model.PrintStandardDeviationPercent),
                (Name: ModelWordsText2, Value: model.PrintSettingStandardDeviationPercent),
            (Name: ModelWordsText3, Value: model.SpecimenStandardDeviationPercent),
        }.Where(part => part.Value is not null).Select(part => $"{part.Name} {Number(part.Value!.Value, 1)} %")];
        string from = model.PrintScatterFrom == ScatterSources.EarlierStudies
            ? ModelWordsText4(model.PrintDegreesOfFreedom) : "";
        return parts.Length == 0 ? "" : ModelWordsText5(parts, model.Prints, model.DegreesOfFreedomMethod, from);
    }

    private static string Judged(QuestionAnswer answer) => answer.Verdict switch
    {
        Verdicts.Different => JudgedDifferentText(answer.Percent > 0, answer.Condition),
        Verdicts.Equivalent => JudgedEquivalentText,
        _ => JudgedOtherwiseText(answer.PercentLow > 0 || answer.PercentHigh < 0),
    };

    private static string Change(QuestionAnswer answer)
        => Amount(answer.Percent!.Value, answer.PercentLow!.Value, answer.PercentHigh!.Value, signed: true);

    private static string Amount(double percent, double low, double high, bool signed = false)
    {
        var (value, from, to) = NumberText.Of(percent, low, high);
        return signed ? AmountText(Plus(value), Plus(from), Plus(to)) : AmountText2(value, from, to);
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

    public static string OriginsNote(UncertaintyOrigins origins)
        => OriginsNoteText(origins.ForceNewtons, NumberText.Significant(origins.ExpandedPercent, 2));

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

    // Pictures that answer questions over all materials and settings.

    public static string NotPrintedNote(string material, string setting) => NotPrintedNoteText(setting.Length > 0, material, setting);

    public static string WholeSignedPercent(double percent) => Plus(Number(percent, 0));

    public static string StrengthByConditionTitle(string settingName) => StrengthByConditionTitleText(settingName.Length > 0, settingName);

    /// <summary>Counts one below the other, where they do not stand side by side.</summary>
    public static string CountsStacked(string counts) => counts.Replace(" | ", "\n", StringComparison.Ordinal);

    public static string CountsBare(string counts) => counts.Replace("n = ", "", StringComparison.Ordinal);

    public static string ChangeBySettingNote(double confidencePercent, double marginPercent) =>
        ChangeBySettingNoteText(Number(confidencePercent), Number(marginPercent));

    public static string RetainedSeries(string material, string condition, int n) =>
        RetainedSeriesText(condition.Length > 0, material, condition, n);

    public static string LinesDescription(IReadOnlyList<(string Name,
        IEnumerable<(string Setting, double Percent, double Low, double High)> Points)> series, string unit) =>
        string.Join("; ",
            series.Select(one => $"{one.Name}: "
            + string.Join(", ",
            one.Points.Select(p => LinesDescriptionPartText(MeanWithInterval(p.Percent, p.Low, p.High), p.Setting, unit.Length > 0,
            unit))))) + ".";

    public static string MannerDescription(IReadOnlyList<(GroupKey Group, IReadOnlyList<(string Manner, int Count)> Shares,
        int Total)> rows, string unit) => string.Join("; ", rows.Select(row =>
        MannerDescriptionPartText(row.Group.Describe(unit), row.Shares.Where(s => s.Count > 0).Select(s => $"{s.Count} {s.Manner}"),
            row.Total))) + ".";

    public static string BeatsTitle(string place) => BeatsTitleText(place.Length > 0, place);

    public static string BeatsNote(double confidencePercent) => BeatsNoteText(Number(confidencePercent));

    public static string BeatsFigure(double percent, double low, double high)
    {
        var (value, from, to) = NumberText.Of(percent, low, high);
        return BeatsFigureText(Plus(value), Plus(from), Plus(to));
    }

    public static string BeatsDescription(IReadOnlyList<QuestionAnswer> rows)
        =>
        string.Join("; ",
        rows.Select(a => BeatsDescriptionPartText(a.Material, a.AgainstMaterial,
        BeatsFigure(a.Percent!.Value, a.PercentLow!.Value, a.PercentHigh!.Value).Replace('\n', ' ')))) + ".";

    // Calibration records, labels, and small joints.

    public static string LabelsTitle(Study study) => LabelsTitleText(study.Name);

    public static string Pair(Comparison row) => $"{row.Condition} − {row.Reference}";

    public static string Ended(int count, string ending) => $"{count} {ending}";

    public static string SettingAxis(Study study) => SettingAxisText(study.SettingUnit.Length == 0, study.SettingName, study.SettingUnit);

    // The sections of a study's report.

    public const string None = "–";

    public static string[] NeverShown(bool allRecorded) =>
    [
        allRecorded
            ? NeverShownText
            : NeverShownText2,
        NeverShownText3,
        NeverShownText4,
    ];

    public static string[] FormalItems =>
    [
        FormalItem,
        FormalItem2,
        FormalItem3,
        FormalItem4,
        FormalItem5,
        FormalItem6,
    ];

    public static string Subtitle(StudyReportModel model)
    {
        int prints = model.Study.Prints.Count;
        string when = "";
        if (model.Runs.Count > 0)
        {
            string first = Day(model.Runs.Min(run => run.Head.StartedAt)), last = Day(model.Runs.Max(run => run.EndedAt));
            string what = model.AllRecorded ? SubtitleText : SubtitleText2;
            when = first == last ? $" · {what} {first}" : SubtitleText3(what, first, last);
        }

        string[] measured = [.. new[] { (model.Runs.Count, SubtitleText4), (model.Study.Imported.Count, SubtitleText5) }
            .Where((part, i) => part.Item1 > 0 || (i == 0 && model.Study.Imported.Count == 0))
                .Select(part => Counted(part.Item1, part.Item2))];
        return SubtitleText6(measured, Counted(model.Study.Specimens.Count, SubtitlePartText), Counted(prints, SubtitlePartText2), when);
    }

    public static string HowClaimed(StudyReportModel model, int comparisons) =>
        HowClaimedText(Number((100 - model.ConfidencePercent) / 100), comparisons, Number(model.Study.EquivalenceMarginPercent));

    public static string GroupsCaption(double confidencePercent) => GroupsCaptionText(Number(confidencePercent));

    public static string GroupsNote(ComparisonAnswer answer, Units units)
    {
        string[] outliers = [.. answer.Groups.Where(group => group.Grubbs is { Outlying: true }).Select(group =>
            $"{group.Material}, {group.Condition}{(group.Setting is { } setting ? $", {setting.ToString(System.Globalization.CultureInfo.InvariantCulture)}" : "")}: {units.Stress.Text(group.Grubbs!.Value, 2)}")];
        string note = GroupsNoteText;
        return outliers.Length == 0
            ? GroupsNoteText2(note)
            : GroupsNoteText3(note, outliers);
    }

    public static string ComparisonsNote(StudyReportModel model) =>
        ComparisonsNoteText(Number(model.ConfidencePercent));

    public static string GroupsInWords(Study study)
    {
        int groups = study.Groups().Count;
        return GroupsInWordsText(groups, study.SettingName, study.Prints.Count, study.Specimens.Count);
    }

    public static string OrderInWords(Study study) => OrderInWordsText(study.Seed);

    public static string SectionBasisWords(Study study) => study.SectionBasis switch
    {
        SectionBasis.PerSpecimen => SectionBasisWordsPerSpecimenText,
        SectionBasis.PerGroup => SectionBasisWordsPerGroupText,
        SectionBasis.ReferenceSetting
            => SectionBasisWordsReferenceSettingText(GroupKey.SettingText(study.ReferenceSetting, study.SettingUnit)),
        _ => study.SectionBasis.ToString(),
    };

    public static string BreakInWords(IReadOnlyList<PullSettings> settings) =>
        BreakInWordsText(settings.Select(s => Number(s.Detection.RemainingPercent)).Distinct());

    public static string RatesInWords(IReadOnlyList<double> rates) =>
        rates.Max() - rates.Min() < 0.5 ? RatesInWordsText(Number(rates.Average(), 0))
            : RatesInWordsText2(Number(rates.Min(), 0), Number(rates.Max(), 0));

    public static string UnderReadInWords(double worstPercent) =>
        UnderReadInWordsText(Number(worstPercent, worstPercent < 0.95 ? 2 : 1));

    public static string StrengthUncertaintyInWords(double worstPercent) => StrengthUncertaintyInWordsText(Number(worstPercent, 1));

    public static IReadOnlyList<string> HowComputed(StudyReportModel model) =>
    [
        HowComputedText,
        model.Answer.Answer is { } answer && answer.Comparisons.Any(comparison => comparison.Method == Methods.Prints)
            ? HowComputedText2
            : HowComputedText3,
        HowComputedText4,
        HowComputedText5,
        HowComputedText6,
    ];

    public static string RunsCaption(int runs, bool allRecorded) =>
        runs == 1 ? RunsCaptionText : RunsCaptionText2(Number(runs), allRecorded);

    public static string LeftOut(RunVoid left)
    {
        string kind = left.Kind.Spoken();
        return left.Text.Length == 0 ? LeftOutText(kind) : LeftOutText2(kind, left.Text);
    }

    public static string Revised(Run run) => RevisedText(run.RevisionReason.Length == 0, run.Revision, run.RevisionReason);

    public static string DeviceWords(RigDevice device) =>
        DeviceWordsText(device.Name, device.Id, device.FirmwareVersion, device.Simulated);

    public static string Or(double? value, int decimals) => value is { } number && double.IsFinite(number) ? Number(number, decimals)
        : None;

    public static string Probability(double? p) => p switch
    {
        null => None,
        < 0.0001 => "<\u00a00.0001",
        < 0.001 and { } small => Number(small, 4),
        { } other => Number(other, 3),
    };

    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    public static string ShortMoment(DateTimeOffset at)
        => at.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    public static string Moment(DateTimeOffset at)
        => at.ToString("yyyy-MM-dd HH:mm zzz", System.Globalization.CultureInfo.InvariantCulture);

    // The words on the picture of one trace.

    public static string TraceTitle(string name, string ending) => $"{name}: {ending}";

    public static string TraceDescription(string name, TraceReading reading, Units units)
    {
        string peak = reading.PeakForceNewtons is { } newtons ? TraceDescriptionText(Peak(newtons, reading, units)) : "";
        return TraceDescriptionText2(name, reading.Ending.Spoken(), peak);
    }

    public static string PeakMark(double newtons, TraceReading reading, Units units) => PeakMarkText(Peak(newtons, reading, units));

    public static string BreakMark(double newtons, Units units) => BreakMarkText(units.Force.Text(newtons, 1));

    private static string Peak(double newtons, TraceReading reading, Units units) =>
        units.Force.Text(newtons, PeakForceUncertainty.ExpandedNewtons(reading), 1);

    // Weibull plots, prints and the plan.

    public static string StrengthLogAxis(Units units) => StrengthLogAxisText(units.Stress.Symbol);

    public static string WeibullLegend(string condition, WeibullFit fit, Units units)
    {
        string modulus = fit is { ModulusLow: { } low, ModulusHigh: { } high } ? MeanWithInterval(fit.Modulus, low, high)
            : Number(fit.Modulus, 0);
        string censored = fit.Censored > 0 ? WeibullLegendText(fit.Censored) : "";
        return WeibullLegendText2(condition.Length > 0, condition, modulus, Characteristic(fit, units.Stress), fit.Failures, censored);
    }

    private static string Characteristic(WeibullFit fit, Unit unit)
        => fit is { CharacteristicLowMegapascals: { } low, CharacteristicHighMegapascals: { } high }
        ? $"{NumberText.Of(unit.Of(fit.CharacteristicMegapascals), unit.Of(low), unit.Of(high)).Value} {unit.Symbol}"
        : unit.Text(fit.CharacteristicMegapascals, 1);

    public static string Share(double share) => Number(100 * share, share == 0.632 ? 1 : 0);

    public static string PlanWords(Study study) => study.PlanFrozenAt is { } at ? PlanWordsText(Moment(at)) : PlanWordsText2;

    public static string StorageWords(StorageSpell spell)
    {
        var parts = new List<string> { spell.Place };
        if (spell.Hours is { } hours) parts.Add(StorageWordsText(Number(hours)));
        if (spell.TemperatureCelsius is { } temperature) parts.Add(StorageWordsText2(Number(temperature)));
        if (spell.RelativeHumidityPercent is { } humidity) parts.Add(StorageWordsText3(Number(humidity)));
        return string.Join(" ", parts.Where(part => part.Length > 0));
    }

    public static string DryingWords(DryingSpell spell)
    {
        var parts = new List<string>();
        if (spell.Hours is { } hours) parts.Add(DryingWordsText(Number(hours)));
        if (spell.MeasuredTemperatureCelsius is { } measured) parts.Add(DryingWordsText2(Number(measured)));
        else if (spell.SetTemperatureCelsius is { } set) parts.Add(DryingWordsText3(Number(set)));
        if (spell.UptakePercent is { } uptake) parts.Add(DryingWordsText4(Number(uptake, 2)));
        return string.Join(", ", parts);
    }

    public static string StrengthAxis(Units units) => StrengthAxisText(units.Stress.Symbol);

    public static string StrengthNote(double confidencePercent) =>
        StrengthNoteText(Number(confidencePercent));

    public static string StrengthDescription(IReadOnlyList<GroupStatistics> groups, string unit, double confidencePercent, Units units) =>
        StrengthDescriptionText(groups.Select(group =>
        {
            string place = new GroupKey(group.Material, group.Condition, group.Setting).Describe(unit);
            return group is { Low: { } low, High: { } high }
                ? StrengthDescriptionPartText(place,
                    MeanWithInterval(units.Stress.Of(group.Mean), units.Stress.Of(low), units.Stress.Of(high)), units.Stress.Symbol,
                    group.N)
                : StrengthDescriptionPartText2(place, units.Stress.Text(group.Mean, 1), group.N);
        }), Number(confidencePercent));

    public static string ChangeTitle(IReadOnlyList<Comparison> rows)
    {
        string[] pairs = [.. rows.Select(row => ChangeTitleText(row.Condition, row.Reference)).Distinct()];
        return pairs.Length == 1 ? ChangeTitleText2(pairs[0]) : ChangeTitleText3;
    }

    public static string ChangeNote(double confidencePercent, double marginPercent) =>
        ChangeNoteText(Number(confidencePercent), Number(marginPercent));

    public static string ChangeRow(string place, string condition, string reference, int? n, int? referenceN)
    {
        string pair = ChangeRowText(condition, reference, n, referenceN);
        return place.Length == 0 ? pair : $"{place}\n{pair}";
    }

    public static string Verdict(Comparison row) => row.Verdict switch
    {
        Verdicts.Different => VerdictDifferentText,
        Verdicts.Equivalent => VerdictEquivalentText,
        _ => VerdictOtherwiseText,
    };

    public static string ChangeFigure(Comparison row)
    {
        var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
        return ChangeFigureText(Plus(value), Plus(low), Plus(high), Verdict(row));
    }

    public static string ChangeDescription(IReadOnlyList<Comparison> rows, string unit, double confidencePercent) =>
        ChangeDescriptionText(rows.Select(row =>
        {
            var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
            string place = string
                .Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, unit) }.Where(part => part.Length > 0));
            return ChangeDescriptionPartText(place, row.Condition, row.Reference, Plus(value), Plus(low), Plus(high), Verdict(row));
        }), Number(confidencePercent));

    /// <summary>"+10", "0", "−10".</summary>
    public static string SignedPercent(double value) => Math.Abs(value) < 1e-9 ? "0" : Plus(NumberText.Of(value, value % 1 == 0 ? 0 : 1));

    /// <summary>"31.4 (30.2 to 32.6)".</summary>
    public static string MeanWithInterval(double mean, double low, double high)
    {
        var (value, from, to) = NumberText.Of(mean, low, high);
        return MeanWithIntervalText(value, from, to);
    }

    /// <summary>With a plus where nothing else stands.</summary>
    public static string Plus(string number) => number.StartsWith('−') || number.All(c => c is '0' or '.') ? number : "+" + number;

    /// <summary>Without needless digits.</summary>
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture).Replace('-', '−');

    /// <summary>With so many decimals.</summary>
    public static string Number(double value, int decimals) => NumberText.Of(value, decimals);
}
