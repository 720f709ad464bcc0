namespace RigDaq.Daemon.Text;

/// <content>What is said of options, whichever command has them.</content>
internal static partial class TerminalText
{
    public static string OptionAboveZero(string option) => $"{option}: a number above 0 was expected.";
}
