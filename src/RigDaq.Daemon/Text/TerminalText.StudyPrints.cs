namespace RigDaq.Daemon.Text;

/// <content>What is said of whole prints.</content>
internal static partial class TerminalText
{
    public const string StudyNotPrintedCommand = "Notes that a print, or its stretch at a setting, could not be printed: a result, with its reason.";
    public const string StudyNotPrintedPrint = "The print.";
    public const string StudyNotPrintedSetting = "The setting of the stretch; needed where the study has settings.";
    public const string StudyNotPrintedReason = "Why: \"layers parted while printing\".";
    public const string StudyNotPrintedTries = "How many times it was tried.";
    public const string StudyNotPrintedPhoto = "A photo of it, JPEG or PNG.";
    public const string StudyNotPrintedBack = "Take it back: it was printed after all, and gets so many specimens.";
    public const string StudyNotPrintedReasonWanted = "Say why it could not be printed: --reason \"layers parted while printing\".";

    public const string StudyJoinCommand = "Joins prints that were entered one for each setting: they are one print with a stretch at each.";
    public const string StudyJoinPrints = "Their ids, separated by commas, from the print bed upwards; the first one's id stays.";
    public const string StudyJoinReason = "Why, in a few words; kept with the change.";

    public static string StudyJoined(string print, string words) => $"{print} is now {words}.";
}
