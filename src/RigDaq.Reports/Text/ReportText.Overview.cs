using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>Pictures that answer questions over all materials and settings.</content>
internal static partial class ReportText
{
    public const string NotPrintedMark = "could not\nbe printed";
    public const string SomeOnePrintShort = "some groups: one print only";
    public const string MannerTitle = "How the specimens broke";
    public const string MannerAxis = "share of specimens in %";
    public const string MannerNote = "in the bars: number of specimens · brittle: at its peak, at once; drawn: after it, with work done";
    public const string BeatsAcross = "row against column, in % of the column";

    public static string NotPrintedMarkOf(IEnumerable<string> conditions) => $"{string.Join(",\n", conditions)}:\ncould not\nbe printed";

    public static string NotPrintedNote(string material, string setting) => setting.Length == 0 ? $"{material} could not be printed" : $"{material} could not be printed at {setting}";

    public static string WholeSignedPercent(double percent) => Plus(Number(percent, 0));

    public static string StrengthByConditionTitle(string settingName) => settingName.Length == 0 ? "Strength by condition" : $"Strength against {settingName}, by condition";

    /// <summary>Counts one below the other, where they do not stand side by side.</summary>
    public static string CountsStacked(string counts) => counts.Replace(" | ", "\n", StringComparison.Ordinal);

    public static string CountsBare(string counts) => counts.Replace("n = ", "", StringComparison.Ordinal);

    public static string ImportedShort(int strengths) => strengths == 1 ? "1 strength imported" : $"{strengths} strengths imported";

    public static string StrengthOfAllTitle(string settingName) => $"Strength against {settingName}";

    public static string ChangeBySettingTitle(string settingName) => $"Change of strength against {settingName}";

    public static string ChangeBySettingNote(double confidencePercent, double marginPercent) =>
        $"coloured band: {Number(confidencePercent)} % interval, unadjusted · grey band: ±{Number(marginPercent)} %, the margin of equivalence";

    public static string RetainedOfAllTitle(string settingName) => $"Strength retained across {settingName}";

    public static string ChangeSeries(string material, string condition, string against, int n, int againstN) =>
        string.Create(CultureInfo.InvariantCulture, $"{material}: {condition} − {against}, n = {n} | {againstN}");

    public static string RetainedSeries(string material, string condition, int n) =>
        string.Create(CultureInfo.InvariantCulture, $"{(condition.Length == 0 ? material : $"{material}, {condition}")}, n = {n}");

    public static string BeatsMaterial(string material, int n) => string.Create(CultureInfo.InvariantCulture, $"{material}\nn = {n}");

    public static string LinesDescription(IReadOnlyList<(string Name, IEnumerable<(string Setting, double Percent, double Low, double High)> Points)> series, string unit) =>
        string.Join("; ", series.Select(one => $"{one.Name}: " + string.Join(", ", one.Points.Select(p => $"{MeanWithInterval(p.Percent, p.Low, p.High)} % at {p.Setting}{(unit.Length > 0 ? " " + unit : "")}")))) + ".";

    public static string MannerRow(string group, int total) => string.Create(CultureInfo.InvariantCulture, $"{group}, n = {total}");

    public static string MannerDescription(IReadOnlyList<(GroupKey Group, IReadOnlyList<(string Manner, int Count)> Shares, int Total)> rows, string unit) => string.Join("; ", rows.Select(row =>
        $"{row.Group.Describe(unit)}: {string.Join(", ", row.Shares.Where(s => s.Count > 0).Select(s => $"{s.Count} {s.Manner}"))} of {row.Total}")) + ".";

    public static string BeatsTitle(string place) => place.Length == 0 ? "Which material is stronger" : $"Which material is stronger: {place}";

    public static string BeatsNote(double confidencePercent) => $"averaged over the settings of both, {Number(confidencePercent)} % interval · coloured: shown to be different";

    public static string BeatsFigure(double percent, double low, double high)
    {
        var (value, from, to) = NumberText.Of(percent, low, high);
        return $"{Plus(value)} %\n({Plus(from)} to {Plus(to)})";
    }

    public static string BeatsDescription(IReadOnlyList<QuestionAnswer> rows) => string.Join("; ", rows.Select(a => $"{a.Material} against {a.AgainstMaterial}: {BeatsFigure(a.Percent!.Value, a.PercentLow!.Value, a.PercentHigh!.Value).Replace('\n', ' ')}")) + ".";
}
