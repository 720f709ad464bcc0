namespace RigDaq.Daemon.Shell;

/// <summary>What the help calls a value that is a path.</summary>
internal static class ShellPaths
{
    public static readonly string[] Names = ["FILE", "FOLDER", "DIR", "TABLE"];
}
