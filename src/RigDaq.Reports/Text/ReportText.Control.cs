using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>Retained strength and the check weight.</content>
internal static partial class ReportText
{
    public const string RetainedAxis = "strength in % of that at the reference setting";
    public const string ControlTitle = "The check weight: control chart";
    public const string ControlAverage = "moving average (EWMA)";
    public const string ControlOutside = "outside";
    public const string ControlNote = "dashed: limits of single readings · dotted: limits of the average";

    public static string RetainedTitle(string material, Study study) => $"{material}: strength retained across {study.SettingName}";

    public static string RetainedNote(double confidencePercent) => $"bar: {Number(confidencePercent)} % interval · line: 100 %, the reference setting";

    public static string ControlAxis(DateTimeOffset first, DateTimeOffset last) => $"reading, {Day(first)} to {Day(last)}";

    public static string ControlReadings(int count) => $"readings, n = {count}";
}
