namespace RigDaq.App.Text;

/// <content>Earlier results and the control.</content>
internal static partial class AppText
{
    public static string GroupNotThere(string text, IReadOnlyList<string> groups) =>
        $"There is no group “{text}”.{(groups.Count == 0 ? "" : $" There are: {string.Join("; ", groups)}.")}";

    public static string AgainstBecause(string earlier, string? pooledBecause, bool remove) =>
        remove ? $"no longer set against {earlier}" : pooledBecause is null ? $"set against {earlier}" : $"pooled with {earlier}: {pooledBecause}";

    public static string ControlNow(string study, string? group) => group is null ? $"{study} has no control" : $"the control of {study} is {group}";
}
