using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>Earlier studies and the control.</content>
internal static partial class ReportText
{
    public const string SessionsAxis = "session";
    public const string EarlierStudies = "Set against";
    public const string ControlFact = "Control";
    public const string ImportedMark = " †";
    public const string ImportedMarkNote = " † some of the strengths behind it were imported, without a trace.";

    public static string EarlierTitle(IReadOnlyList<string> studies) => studies.Count == 1 ? $"Strength against {studies[0]}" : "Strength against earlier studies";

    public static string EarlierRow(QuestionAnswer row, string unit, int n, bool several)
    {
        string at = row.Setting is null ? "average over settings" : GroupKey.SettingText(row.Setting, unit);
        string group = string.Join(", ", new[] { row.Material!, row.Condition!, at }.Where(part => part.Length > 0));
        return $"{group}\n{(several ? $"{row.AgainstStudy}, " : "")}n = {n}{(row.CorrectedByControl == true ? ", control taken off" : "")}";
    }

    public static string EarlierFigure(QuestionAnswer row)
    {
        var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
        string verdict = row.Verdict switch { Verdicts.Different => "different", Verdicts.Equivalent => "equivalent", _ => "no difference shown" };
        return $"{Plus(value)} % ({Plus(low)} to {Plus(high)})\n{verdict}";
    }

    public static string EarlierNote(IReadOnlyList<QuestionAnswer> rows, double confidencePercent, double marginPercent) =>
        ChangeNote(confidencePercent, marginPercent) + (rows.Any(row => row.Imported > 0) ? " · open mark: imported strengths" : "");

    /// <summary>One sentence for the paragraph that begins the report.</summary>
    public static string FoundEarlier(string study, IReadOnlyList<QuestionAnswer> rows, string unit)
    {
        string said = string.Join("; ", rows.Select(a => $"{string.Join(", ", new[] { a.Material!, a.Condition!, a.Setting is null ? "on average" : GroupKey.SettingText(a.Setting, unit) }.Where(p => p.Length > 0))} "
            + a.Verdict switch
            {
                Verdicts.Different => $"is {(a.Percent > 0 ? "stronger" : "weaker")} ({Change(a)})",
                Verdicts.Equivalent => $"is as strong within the margin ({Change(a)})",
                _ => $"shows no difference ({Change(a)})",
            } + (a.Imported > 0 ? ", some of it imported" : "")));
        return $"Against {study}: {said}{(rows.Any(row => row.CorrectedByControl == true) ? "; the change of the control is taken off" : "")}.";
    }

    public static string EarlierWords(EarlierResult earlier)
    {
        int strengths = earlier.Stretches.Sum(s => s.Megapascals.Count), imported = earlier.Stretches.Sum(s => s.Imported);
        string[] calibrations = [.. earlier.Stretches.SelectMany(s => s.Calibrations).Select(c => c.Id).Distinct()];
        string pooled = earlier.PooledBecause is { } why ? $", pooled with this study because: {why}" : "";
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{earlier.Title}: {Counted(strengths, "strength")}")
            + (imported > 0 ? $", {imported} imported" : "") + (calibrations.Length > 0 ? $", calibration {string.Join(", ", calibrations)}" : ", no calibration known") + pooled;
    }

    public static string PooledShort(int strengths, string study) => $"{Counted(strengths, "strength")} of {study} pooled";

    public static string SessionsTitle(string control) => $"The control over the sessions: {control}";

    public static string SessionsTick(ControlPoint point) => $"{(point.At is { } at ? Day(at) : "")}\n{point.StudyId}, n = {point.N}";

    public static string SessionsNote(ControlHistory history) => (history.LowerMegapascals is null ? $"bars: 95 % intervals, calibration included · no limits before {ControlHistory.BaselineSessions} sessions"
        : "bars: 95 % intervals, calibration included · dashed: limits of a session")
        + (history.Points.Any(p => p.Imported > 0) ? " · open mark: imported strengths" : "") + (history.Simulated ? "\n" + SimulatedShort : "");

    public static string SessionsDescription(ControlHistory history, Units units) =>
        string.Join("; ", history.Points.Select(p => $"{(p.At is { } at ? Day(at) : "")} {p.StudyId}: {units.Stress.Text(p.MeanMegapascals, p.HighMegapascals - p.MeanMegapascals, 1)}")) + $". {history.Sentence}";
}
