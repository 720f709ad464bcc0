using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;

namespace RigDaq.Reports.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class ReportText
{
    // Calibrations and traces.

    public static string ReferenceAxis(Units units) => ReferenceAxisText(units.Force.Symbol);

    public static string ForceAxis(Units units) => ForceAxisText(units.Force.Symbol);

    public static string ClassWords(CalibrationClass given, Units units) =>
        ClassWordsText(Number(given.Value), units.Force.Text(given.FromNewtons, 1), units.Force.Text(given.ToNewtons, 1), given.Qualified);

    public static string ExpandedWords(double leastPercent, double greatestPercent) => greatestPercent - leastPercent < 0.005
        ? ExpandedWordsText(Number(greatestPercent, 2)) : ExpandedFromTo(Number(leastPercent, 2), Number(greatestPercent, 2));

    public static string GreatestForceWords(double peakNewtons, double? expandedNewtons, double referenceNewtons, Units units)
    {
        string peak = units.Force.Text(peakNewtons, expandedNewtons, 1);
        double ratio = peakNewtons / referenceNewtons;
        return ratio <= 1 ? GreatestForceWordsText(peak) : GreatestForceBeyond(peak, Number(ratio, 1));
    }

    public static string CurveWords(CalibrationRecord calibration) =>
        CurveWordsText(calibration.Curve.Coefficients.Select((coefficient, i) =>
            CurveWordsPartText(coefficient.ToString("0.#####E+0", System.Globalization.CultureInfo.InvariantCulture), i == 0 ? "" : i == 1
                ? "²" : "³")));

    public static string ResidualDescription(int points, double worstPercent) => ResidualDescriptionText(points, Number(worstPercent, 2));

    public static string DirectionWords(LoadDirection direction, int count) => DirectionWordsText(direction == LoadDirection.Rising, count);

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
        string left = without == 0 ? "" : taken.Length == 0 ? ComplianceInAll : ComplianceInSome(without);
        return string.Join("; ", taken.Append(left).Where(words => words.Length > 0));
    }

    // Retained strength and the check weight.

    public static string RetainedTitle(string material, Study study) => RetainedTitleText(material, study.SettingName);

    public static string RetainedNote(double confidencePercent) => RetainedNoteText(Number(confidencePercent));

    public static string ControlAxis(DateTimeOffset first, DateTimeOffset last) => ControlAxisText(Day(first), Day(last));

    // Earlier studies and the control.

    public const string ImportedMark = " †";

    public static string EarlierTitle(IReadOnlyList<string> studies) => studies.Count == 1 ? EarlierTitleText(studies[0])
        : EarlierTitleOfSeveral;

    public static string EarlierRow(QuestionAnswer row, string unit, int n, bool several)
    {
        string at = row.Setting is null ? EarlierRowText : GroupKey.SettingText(row.Setting, unit);
        string group = string.Join(", ", new[] { row.Material!, row.Condition!, at }.Where(part => part.Length > 0));
        return EarlierRowLabel(group, several, row.AgainstStudy, n, row.CorrectedByControl == true);
    }

    public static string EarlierFigure(QuestionAnswer row)
    {
        var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
        string verdict = row.Verdict switch
        {
            Verdicts.Different => EarlierFigureText,
            Verdicts.Equivalent => EarlierEquivalent,
            _ => EarlierNotResolved
        };
        return EarlierFigureWithVerdict(Plus(value), Plus(low), Plus(high), verdict);
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
                Verdicts.Different => FoundEarlierDifferent(a.Percent > 0, Change(a)),
                Verdicts.Equivalent => FoundEarlierEquivalent(Change(a)),
                _ => FoundEarlierNotResolved(Change(a)),
            } + (a.Imported > 0 ? FoundEarlierImported : "")));
        return FoundEarlierWhole(study, said, rows.Any(row => row.CorrectedByControl == true));
    }

    public static string EarlierWords(EarlierResult earlier)
    {
        int strengths = earlier.Stretches.Sum(s => s.Megapascals.Count), imported = earlier.Stretches.Sum(s => s.Imported);
        string[] calibrations = [.. earlier.Stretches.SelectMany(s => s.Calibrations).Select(c => c.Id).Distinct()];
        string pooled = earlier.PooledBecause is { } why ? EarlierWordsText(why) : "";
        return string.Create(System.Globalization.CultureInfo.InvariantCulture,
            $"{earlier.Title}: {Counted(strengths, EarlierOneStrength)}")
            + (imported > 0 ? EarlierImportedAmong(imported) : "")
                + (calibrations.Length > 0 ? EarlierCalibrations(calibrations) : EarlierWithoutCalibration) + pooled;
    }

    public static string PooledShort(int strengths, string study) => PooledShortText(Counted(strengths, PooledShortPartText), study);

    public static string SessionsTick(ControlPoint point) => SessionsTickText(point.At is { } at ? Day(at) : "", point.StudyId, point.N);

    public static string SessionsNote(ControlHistory history) => SessionsNoteText(history.LowerMegapascals is null,
        ControlHistory.BaselineSessions, history.Points.Any(p => p.Imported > 0), history.Simulated);

    public static string SessionsDescription(ControlHistory history, Units units) =>
        string.Join("; ",
            history.Points.Select(p =>
            $"{(p.At is { } at ? Day(at) : "")} {p.StudyId}: {units.Stress.Text(p.MeanMegapascals, p.HighMegapascals - p.MeanMegapascals, 1)}")) + $". {history.Sentence}";

    // Calibration records, labels, and small joints.

    public static string LabelsTitle(Study study) => LabelsTitleText(study.Name);

    public static string Pair(Comparison row) => $"{row.Condition} − {row.Reference}";

    public static string Ended(int count, string ending) => $"{count} {ending}";

    public static string SettingAxis(Study study) => SettingAxisText(study.SettingUnit.Length == 0, study.SettingName, study.SettingUnit);
}
