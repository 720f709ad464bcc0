using RigDaq.Daemon.Commands;

namespace RigDaq.Daemon.Tests;

/// <summary>Types a command and hears what it says; for tests that have the console to themselves.</summary>
internal static class CommandLine
{
    public static async Task<(int Status, string Output, string Said)> RunAsync(params string[] arguments)
    {
        (TextWriter output, TextWriter said) = (Console.Out, Console.Error);
        using var writtenOutput = new StringWriter();
        using var writtenSaid = new StringWriter();
        Console.SetOut(writtenOutput);
        Console.SetError(writtenSaid);
        try
        {
            return (await CommandTree.RunAsync(arguments), writtenOutput.ToString(), writtenSaid.ToString());
        }
        finally
        {
            Console.SetOut(output);
            Console.SetError(said);
        }
    }
}
