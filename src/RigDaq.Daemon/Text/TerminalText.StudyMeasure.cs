namespace RigDaq.Daemon.Text;

/// <content>Sections measured by keyboard or by a caliper that types.</content>
internal static partial class TerminalText
{
    public const string StudyMeasureCommand = "Sections by keyboard or by a caliper that types: one reading a line, each specimen in turn.";
    public const string StudyMeasureReadings = "Readings of each dimension.";
    public const string StudyMeasureResolution = "The smallest step that the caliper shows, in the unit of length; by default 0.01 mm or 0.0005 in.";
    public const string StudyMeasurePrint = "Only this print's specimens.";
    public const string StudyMeasureAgain = "Those measured already, too.";
    public const string StudyMeasureResolutionBelowZero = "--resolution: 0 or more was expected.";
    public const string StudyMeasureWidth = "width";
    public const string StudyMeasureThickness = "thickness";
    public const string StudyMeasureRight = "Right as it is? y keeps it, anything else measures it again: ";

    public static string StudyMeasureOpening(string unit, bool keptInIt) =>
        $"Readings are in {unit}, unless mm or in is typed behind them{(keptInIt ? "" : "; they are kept in mm")}. s skips a specimen, r starts it again, q ends.";

    public static string StudyMeasureNumberWanted(string unit) => $"A number in {unit} and Enter; s skips this specimen, r starts it again, q ends.";

    public static string StudyMeasuredTotal(int specimens, int revisedRuns) =>
        $"{specimens} specimens measured{(revisedRuns > 0 ? $", {revisedRuns} runs revised" : "")}.";
}
