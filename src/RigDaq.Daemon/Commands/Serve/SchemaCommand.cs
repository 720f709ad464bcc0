using System.CommandLine;
using System.Text.Json;
using RigDaq.App.Configuration;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq schema</c>: the configuration's JSON Schema, for editors.</summary>
internal static class SchemaCommand
{
    private static readonly JsonSerializerOptions Lines = new() { WriteIndented = true };

    public static Command Create() => new Command("schema", TerminalText.SchemaCommand).WithBody(_ =>
    {
        // For machines in any case: with --json and without it is the same.
        Console.WriteLine(OptionsSchema.Make().ToJsonString(Lines));
        return ExitStatus.Done;
    });
}
