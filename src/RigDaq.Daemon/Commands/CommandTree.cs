using System.CommandLine;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>All commands of <c>rigdaq</c>, one line each, in the order in which help shows them.</summary>
internal static class CommandTree
{
    /// <summary>Where a machine-readable answer is wanted: one object, or one a line for several files.</summary>
    public static readonly Option<bool> Json = new("--json")
    {
        Description = TerminalText.OptionJson,
        Recursive = true,
    };

    public static async Task<int> RunAsync(string[] args)
    {
        if (args.FirstOrDefault(arg => !PlainText.IsPlain(arg, ofSeveralLines: true)) is { } odd)
        {
            await Console.Error.WriteLineAsync(TerminalText.ProgramArgumentNotPlain(PlainText.Shown(odd))).ConfigureAwait(false);
            return ExitStatus.BadInput;
        }

        ParseResult parsed = Create().Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors) await Console.Error.WriteLineAsync(error.Message).ConfigureAwait(false);
            await Console.Error.WriteLineAsync(TerminalText.ProgramSeeHelp).ConfigureAwait(false);
            return ExitStatus.BadInput;
        }

        // Failures are told in words by CommandRunner; Ctrl-C gives a running daemon time to stop the rig and close its files.
        return await parsed.InvokeAsync(new InvocationConfiguration { EnableDefaultExceptionHandler = false }).ConfigureAwait(false);
    }

    /// <summary>The whole tree, for whoever only wants to know what parses.</summary>
    internal static RootCommand Create() => new(TerminalText.ProgramCommand)
    {
        Json,
        UnitsOption.Units,
        TraceCommand.Create(),
        CalibrationCommand.Create(),
        CalibrationGuideCommand.Create(),
        ComplianceCommand.Create(),
        CompareCommand.Create(),
        ReportCommand.Create(),
        ExportPicturesCommand.Create(),
        ExportCommand.Create(),
        ImportCommand.Create(),
        BackupCommand.Create(),
        StudyCommand.Create(),
        DemoCommand.Create(),
        ServeCommand.Create(),
        RebuildCommand.Create(),
        CheckCommand.Create(),
        FirstStartCommand.Create(),
        CheckWeightCommand.Create(),
        UncertaintyCommand.Create(),
    };
}
