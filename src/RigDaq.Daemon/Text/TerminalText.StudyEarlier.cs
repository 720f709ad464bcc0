using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>Earlier results and the control.</content>
internal static partial class TerminalText
{
    public const string EarlierCommand = "Lists every group that was ever measured here, with its calibration, how its prints came to be, and when.";
    public const string EarlierControl = "Shows one control over its sessions instead.";
    public const string EarlierMaterial = "Only groups of this material.";
    public const string EarlierNone = "Nothing has been measured yet.";

    public const string AgainstCommand = "Sets a study against an earlier one: groups that both have are compared, and where this one has one print of each, the scatter between prints is taken from it.";
    public const string AgainstOther = "The earlier study. Its strengths are taken over as they stand now; say it again to take them over anew.";
    public const string AgainstPool = "Pool its strengths with this study's, as further prints, and say why; kept with the study and said in every report.";
    public const string AgainstNoScatter = "Do not take the scatter between prints from it.";
    public const string AgainstRemove = "No longer set against it.";

    public const string ControlCommand = "Marks the control of a study: a group of a filament that is kept for it and pulled in every session.";
    public const string ControlGroup = "The group: \"Kept, fan off, 220\".";
    public const string ControlRemove = "The study has no control.";
    public const string ControlGroupOrRemove = "Name the group that is the control, or say --remove.";

    public static string AgainstNow(string study, string earlier, string? pooledBecause) =>
        pooledBecause is null ? $"{study} is set against {earlier}." : $"{study} is pooled with {earlier}: {pooledBecause}.";

    public static string EarlierStudyHead(string id, string name, DateTimeOffset? from, DateTimeOffset? to, bool fromElsewhere, bool simulated)
    {
        string when = from is { } first && to is { } last ? (Day(first) == Day(last) ? Day(first) : $"{Day(first)} to {Day(last)}") : "";
        return string.Join("  ", new[] { id, when, name, fromElsewhere ? "(from elsewhere)" : "", simulated ? "(simulated, no real material)" : "" }.Where(part => part.Length > 0));
    }

    public static string EarlierGroup(string group, string mean, double? variation, int n, int prints, int imported, bool control) => string.Create(
        CultureInfo.InvariantCulture,
        $"{group}: {mean}{(variation is { } v ? $", coefficient of variation {v:F1} %" : "")}, {n} specimen{(n == 1 ? "" : "s")} of {prints} print{(prints == 1 ? "" : "s")}{(imported > 0 ? $", {imported} imported" : "")}{(control ? ", control" : "")}");

    public static string EarlierCalibrations(IReadOnlyList<(string Id, double? Percent)> calibrations) => calibrations.Count == 0
        ? "no calibration known"
        : string.Join("; ", calibrations.Select(c => string.Create(CultureInfo.InvariantCulture, $"calibration {c.Id}{(c.Percent is { } percent ? $" (standard uncertainty {percent:G2} %)" : "")}")));

    public static string EarlierControlLine(string control, string sentence) => $"Control {control}: {sentence}";

    public static string ControlSession(DateTimeOffset? at, string study, int n, int imported, string mean, string? half, double? change, bool outside) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(at is { } day ? Day(day) : "unknown day")}  {study}: {mean}{(half is null ? "" : $" ± {half}")}, {n} specimen{(n == 1 ? "" : "s")}{(imported > 0 ? $", {imported} imported" : "")}{(change is { } c ? $", {c:+0.0;-0.0;0.0} % against the sessions before" : "")}{(outside ? ", outside the limits" : "")}");

    public static string ControlLimits(string lower, string upper) => $"limits of a session: {lower} to {upper}";

    private static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
