namespace RigDaq.Daemon.Text;

/// <summary>What the terminal says to people: every sentence of the commands, so that it can be translated in one place. Names of options, of keys and of files are no words.</summary>
internal static partial class TerminalText
{
}
