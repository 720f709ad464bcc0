namespace RigDaq.Core.Text;

/// <content>What the groups of a comparison differ in.</content>
internal static partial class CoreText
{
    public const string StorageHumidity = "storage humidity";
    public const string StorageTemperature = "storage temperature";
    public const string StorageTime = "storage time";
    public const string HumidityWhilePrinting = "humidity while printing";
    public const string StorageWhilePrinting = "storage while printing";
    public const string Drying = "drying";
    public const string ChamberTemperature = "chamber temperature";

    public static string GroupsDifferInSeveral(string place, string condition, string reference, IReadOnlyList<string> differences) =>
        $"{place}: {condition} and {reference} differ in {string.Join(", ", differences)}; a difference in strength cannot be put down to one of them.";

    public static string SettingAndPlaceTogether(string settingName) =>
        $"Every print has its stretches in the same order along its height: what the {settingName} does and what the place along the print does cannot be told apart.";

    public static string GroupsRecordedAlike(string place, string condition, string reference) =>
        $"{place}: the records of {condition} and {reference} are the same; note what was done differently.";
}
