using RigDaq.Core.Comparisons;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>Calibration records, labels, and small joints.</content>
internal static partial class ReportText
{
    public const string RecordAboutHeading = "What it is about";
    public const string RecordFiguresHeading = "Figures";
    public const string RecordMethodHeading = "How the figures were had";

    /// <summary>What pages and files of ours are signed with.</summary>
    public const string Creator = "RigDaq";

    /// <summary>The language of all this, for readers and for hyphenation (BCP 47).</summary>
    public const string Language = "en";

    public static string LabelsTitle(Study study) => $"Specimen labels of {study.Name}";

    public static string ControlDescription(int readings, string sentence) => $"{readings} readings. {sentence}";

    public static string Pair(Comparison row) => $"{row.Condition} − {row.Reference}";

    public static string Span(string low, string high) => $"{low} to {high}";

    public static string Ended(int count, string ending) => $"{count} {ending}";

    public static string SettingAxis(Study study) => study.SettingUnit.Length == 0 ? study.SettingName : $"{study.SettingName} in {study.SettingUnit}";

    public static string CountsOf(IEnumerable<string> counts) => $"n = {string.Join(" | ", counts)}";
}
