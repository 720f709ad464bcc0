using System.CommandLine;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
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

    /// <summary>Does what a command line says.</summary>
    /// <param name="args">The command line.</param>
    /// <param name="cancellation">Calls it off, besides Ctrl-C at a terminal of its own.</param>
    /// <returns>The exit status.</returns>
    public static async Task<int> RunAsync(string[] args, CancellationToken cancellation = default)
    {
        if (args.FirstOrDefault(arg => !PlainText.IsPlain(arg, ofSeveralLines: true)) is { } odd)
        {
            await CommandPlace.Error.WriteLineAsync(TerminalText.ProgramArgumentNotPlain(PlainText.Shown(odd))).ConfigureAwait(false);
            return ExitStatus.BadInput;
        }

        ParseResult parsed = Create().Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors) await CommandPlace.Error.WriteLineAsync(error.Message).ConfigureAwait(false);
            await CommandPlace.Error.WriteLineAsync(TerminalText.ProgramSeeHelp).ConfigureAwait(false);
            return ExitStatus.BadInput;
        }

        // Failures are told in words by CommandRunner; Ctrl-C gives a running daemon time to stop the rig and close its files.
        var how = new InvocationConfiguration
        { EnableDefaultExceptionHandler = false, Output = CommandPlace.Output, Error = CommandPlace.Error };
        if (CommandPlace.OfDaemon is not null) how.ProcessTerminationTimeout = null;
        return await parsed.InvokeAsync(how, cancellation).ConfigureAwait(false);
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
        AccountCommand.Create(),
        JournalCommand.Create(),
        SchemaCommand.Create(),
        CompletionCommand.Create(),
        ManualCommand.Create(),
        WatchCommand.Create(),
    };
}
