namespace RigDaq.Daemon.Text;

/// <content>What is wrong with a file that was handed in.</content>
internal static partial class TerminalText
{
    /// <param name="command">The command line that prints such an answer.</param>
    public static string InputTooLongForAnswer(string command) => $"too long for the answer of `{command}`.";

    public static string InputAnswerExpected(string command) => $"the answer of `{command}` was expected.";

    public static string InputNotJson(string file, long line, string command) => $"{file}, line {line}: not JSON; the answer of `{command}` was expected.";

    public static string InputKeyNumber(string key) => $"key {key}: a number was expected.";

    public static string InputKeyAboveZero(string key) => $"key {key}: a number above 0 was expected.";

    public static string InputKeyZeroOrMore(string key) => $"key {key}: a number of 0 or more was expected.";
}
