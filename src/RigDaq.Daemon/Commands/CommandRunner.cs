using System.CommandLine;
using System.Runtime.InteropServices;
using RigDaq.App.Input;
using RigDaq.Core;
using RigDaq.Daemon.Door;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Runs a command's body and turns what can go wrong into one clear message and an exit status; never a stack trace.</summary>
internal static class CommandRunner
{
    /// <summary>Makes <paramref name="body"/> the action of <paramref name="command"/>.</summary>
    public static Command WithBody(this Command command, Func<ParseResult, CancellationToken, Task<int>> body)
    {
        command.SetAction(async (parsed, ended) =>
        {
            using var over = CancellationTokenSource.CreateLinkedTokenSource(ended);
            using PosixSignalRegistration? hangUp = CommandPlace.OfDaemon is null ? HangUp.Register(over) : null;
            try
            {
                return await DoAsync(body, parsed, over.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (over.IsCancellationRequested)
            {
                Say(TerminalText.ProgramStopped);
                return ExitStatus.CouldNotBeDone;
            }
            catch (Exception failure) when (StatusOf(failure) is not null)
            {
                Say(failure.Message);
                return StatusOf(failure)!.Value;
            }
            catch (Exception fault)
            {
                // A fault of ours is said as one, in a line that can be sent; a stack trace is no answer to anybody.
                Say(TerminalText.ProgramFault(fault.GetType().Name, fault.Message, PlaceOf(fault)));
                return ExitStatus.CouldNotBeDone;
            }
        });
        return command;
    }

    /// <summary>Does it here, or has it done by the daemon that has the data folder.</summary>
    private static async Task<int> DoAsync(Func<ParseResult, CancellationToken, Task<int>> body, ParseResult parsed,
        CancellationToken cancellation)
    {
        try
        {
            return await body(parsed, cancellation).ConfigureAwait(false);
        }
        catch (FolderHeldException held)
        {
            var here = new DoorTerminal(CommandPlace.Output, CommandPlace.Error, CommandPlace.Input);
            int? status = await DoorClient.RunAsync(held.Folder, TypedCommand.Request(parsed), here, cancellation).ConfigureAwait(false);
            if (status is { } known) return known;
            throw;
        }
    }

    /// <summary>Makes a body that does not wait the action of <paramref name="command"/>.</summary>
    public static Command WithBody(this Command command, Func<ParseResult, int> body) =>
        command.WithBody((parsed, _) => Task.FromResult(body(parsed)));

    /// <summary>The exit status for a failure that is expected of the world; null for a fault of ours.</summary>
    public static int? StatusOf(Exception failure) => failure switch
    {
        RefusalException => ExitStatus.BadInput,
        CannotBeDoneException or IOException or UnauthorizedAccessException or TimeoutException => ExitStatus.CouldNotBeDone,
        _ => null,
    };

    private static string PlaceOf(Exception fault) =>
        fault.TargetSite is { DeclaringType: { } type } site ? $"{type.Name}.{site.Name}" : "";

    /// <summary>Says something to a person; where the terminal has gone, to nobody.</summary>
    public static void Say(string message)
    {
        try
        {
            CommandPlace.Error.WriteLine(message);
        }
        catch (IOException)
        {
            // Nobody is there to hear it; what is being done matters more.
        }
    }
}
