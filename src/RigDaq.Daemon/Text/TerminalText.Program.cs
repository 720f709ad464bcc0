namespace RigDaq.Daemon.Text;

/// <content>The program itself, and what it says when it ends.</content>
internal static partial class TerminalText
{
    public const string ProgramCommand = "Breaks printed specimens on a self-built tensile rig, and says what the figures hold.";
    public const string ProgramSeeHelp = "See `rigdaq --help`, or `rigdaq COMMAND --help`.";
    public const string ProgramStopped = "Stopped.";

    public static string ProgramArgumentNotPlain(string shown) => $"“{shown}” holds control characters (written out here); names and reasons hold none.";

    public static string ProgramFault(string kind, string fault, string place) =>
        $"This is a fault of RigDaq, not yours: {fault} ({kind} in {place}). Nothing that was kept is touched by it; please report this line with what you typed.";
}
