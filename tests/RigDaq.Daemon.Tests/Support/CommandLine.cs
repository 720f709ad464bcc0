using RigDaq.Daemon.Commands;

namespace RigDaq.Daemon.Tests;

/// <summary>Types a command and hears what it says; for tests that have the console to themselves.</summary>
internal static class CommandLine
{
    // These look at a folder that nobody has open.
    private static readonly string[] ForClosedFolders = ["check", "rebuild"];

    /// <summary>Whether each command finds a daemon at the data folder that it names. Whoever sets it sets it back.</summary>
    public static bool ThroughDaemon { get; set; }

    public static async Task<(int Status, string Output, string Said)> RunAsync(params string[] arguments)
    {
        (TextWriter output, TextWriter said) = (Console.Out, Console.Error);
        using var writtenOutput = new StringWriter();
        using var writtenSaid = new StringWriter();
        Console.SetOut(writtenOutput);
        Console.SetError(writtenSaid);
        try
        {
            await using DoorHost? daemon = ThroughDaemon && FolderOf(arguments) is { } folder ? await DoorHost.StartAsync(folder) : null;
            return (await CommandTree.RunAsync(arguments), writtenOutput.ToString(), writtenSaid.ToString());
        }
        finally
        {
            Console.SetOut(output);
            Console.SetError(said);
        }
    }

    private static string? FolderOf(string[] arguments)
    {
        int at = Array.IndexOf(arguments, "--data") + 1;
        return at > 0 && at < arguments.Length && !ForClosedFolders.Contains(arguments[0])
            && File.Exists(Path.Combine(arguments[at], "archive.lock")) ? arguments[at] : null;
    }
}
