using System.Globalization;

namespace RigDaq.App.Text;

/// <content>The lines that a device prints: how they look, and how they could be read.</content>
internal static partial class AppText
{
    public static string LinesLook(string line) => $" The lines look like “{line}”.";

    public static string LinesDoubts(IEnumerable<string> doubts) => $" To look at: {string.Join("; ", doubts)}.";

    public static string LinesRead(int lines, double share, string format) => string.Create(CultureInfo.InvariantCulture, $"{lines} lines, {100 * share:0} % of them read as {format}.");

    public static string LinesProposedInstead(string read, string look, string format, string why, string configuration) =>
        $"{read}{look} Proposed instead: {format}. {why} Write: {configuration}";

    public static string LinesProposed(string look, string format, string why, string configuration) =>
        $"The device prints lines.{look} Proposed: {format}. {why} Write: {configuration}";

    /// <summary>Several findings as one sentence.</summary>
    public static string LinesSentence(IEnumerable<string> parts)
    {
        string all = string.Join("; ", parts);
        return all.Length == 0 ? "" : char.ToUpperInvariant(all[0]) + all[1..].TrimEnd('.') + ".";
    }
}
