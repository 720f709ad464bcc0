using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>A study's plan and how far it has come.</content>
internal static partial class TerminalText
{
    public const string StudyShowCommand = "A study: its plan, how far it has come, what it says so far.";
    public const string StudyShowQuestionEnd = ":";
    public const string StudyShowSeenAfterwards = " *";
    public const string StudyShowSeenAfterwardsNote = "* seen afterwards: this question was not in the frozen plan.";
    public const string StudyShowNonePulled = "none pulled";

    public static string StudyShowPlan(DateTimeOffset made, int specimens, int prints, double marginPercent, string? reference, DateTimeOffset? frozen) =>
        string.Create(CultureInfo.InvariantCulture, $"made {made:yyyy-MM-dd}, {specimens} specimens from {prints} prints, margin ±{marginPercent} %, ")
        + (reference is null ? "all pairs compared, " : $"compared with {reference}, ")
        + (frozen is { } at ? string.Create(CultureInfo.InvariantCulture, $"plan frozen {at:yyyy-MM-dd HH:mm}") : "plan not frozen");

    /// <param name="group">The group.</param>
    /// <param name="planned">How many specimens it is to have.</param>
    /// <param name="endings">How its pulls ended, or that there were none.</param>
    /// <param name="imported">How many strengths of it came from a table.</param>
    /// <param name="voided">How many runs were left out.</param>
    /// <param name="mean">The mean strength with its unit; null without one.</param>
    public static string StudyShowGroup(string group, int planned, string endings, int imported, int voided, string? mean) =>
        $"{group}: {planned} planned; {endings}{(imported > 0 ? $", {imported} imported" : "")}{(voided > 0 ? $", {voided} voided" : "")}{(mean is null ? "" : $", mean {mean}")}";
}
