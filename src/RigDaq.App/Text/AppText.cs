namespace RigDaq.App.Text;

/// <summary>What the program says to people whoever asked it, the terminal or a page: every sentence of what it does, so that it can be translated in one place. Names of options, of keys and of files are no words.</summary>
internal static partial class AppText
{
}
