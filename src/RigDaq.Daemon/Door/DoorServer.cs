using System.Collections;
using System.Net.WebSockets;
using System.Text.Json;
using RigDaq.Archive;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Door;

/// <summary>
/// Does in the daemon what was typed at a terminal of the same machine: the command runs over the open archive, by the same code, and what
/// it writes goes back. Only whoever came through the machine's own socket or pipe is served: a command reads and writes files as this
/// user.
/// </summary>
/// <param name="archive">The folder's, open.</param>
/// <param name="commands">Does what a command line says, in the place that it was entered with, and gives the exit status.</param>
/// <param name="lifetime">Ends the commands with the daemon.</param>
/// <param name="log">Says what was done.</param>
/// <param name="rig">The live rig, where there is one.</param>
internal sealed class DoorServer(RigArchive archive, CommandLineRunner commands, IHostApplicationLifetime lifetime,
    ILogger<DoorServer> log, RigController? rig = null) : IDisposable
{
    /// <summary>Where it is asked for.</summary>
    public const string Path = "/api/v1/commands";

    /// <summary>How many commands are done at once; further ones wait, and are told so.</summary>
    internal const int CommandsMax = 4;

    /// <summary>How many may wait; further ones are sent away.</summary>
    internal const int WaitingMax = 16;

    /// <summary>The exit status of what could not be done.</summary>
    private const int CouldNotBeDone = 1;

    private readonly SemaphoreSlim _places = new(CommandsMax);
    private readonly RigTurn _rigTurn = new();
    private int _here;

    /// <summary>How many commands are done or wait.</summary>
    internal int Here => Volatile.Read(ref _here);

    public void Dispose() => _places.Dispose();

    public async Task RunAsync(HttpContext context)
    {
        if (LocalCaller.Of(context) is null || !context.WebSockets.IsWebSocketRequest)
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        using var channel = new DoorChannel(await context.WebSockets.AcceptWebSocketAsync().ConfigureAwait(false));
        try
        {
            await ServeAsync(channel, context.RequestAborted).ConfigureAwait(false);
        }
        catch (Exception gone) when (gone is WebSocketException or OperationCanceledException or IOException or JsonException)
        {
            // The terminal went away; the command has ended as by Ctrl-C.
        }
    }

    private async Task ServeAsync(DoorChannel channel, CancellationToken aborted)
    {
        using var over = CancellationTokenSource.CreateLinkedTokenSource(aborted, lifetime.ApplicationStopping);
        if (await channel.ReceiveAsync<DoorRequest>(over.Token).ConfigureAwait(false) is not { } request) return;
        try
        {
            if (Interlocked.Increment(ref _here) > CommandsMax + WaitingMax)
            {
                await EndAsync(channel, CouldNotBeDone, TerminalText.DoorFull(CommandsMax + WaitingMax)).ConfigureAwait(false);
                return;
            }

            if (!_places.Wait(0, CancellationToken.None))
            {
                await channel.SendAsync(new DoorWords { Error = TerminalText.DoorWaiting(CommandsMax) + '\n' }).ConfigureAwait(false);
                await _places.WaitAsync(over.Token).ConfigureAwait(false);
            }

            try
            {
                await DoAsync(channel, request, over).ConfigureAwait(false);
            }
            finally
            {
                _places.Release();
            }
        }
        finally
        {
            Interlocked.Decrement(ref _here);
        }
    }

    private async Task DoAsync(DoorChannel channel, DoorRequest request, CancellationTokenSource over)
    {
        using var output = new DoorWriter(channel, text => new DoorWords { Output = text });
        using var error = new DoorWriter(channel, text => new DoorWords { Error = text });
        using var input = new DoorReader(channel, () =>
        {
            output.Flush();
            error.Flush();
        });
        Task typing = TakeLinesAsync(channel, input, over);
        var place = new CommandPlace
        {
            Answers = output,
            Words = error,
            Typed = input,
            Environment = new Hashtable(request.Settings.ToDictionary(setting => setting.Key, setting => setting.Value)),
            Archive = archive,
            Rig = rig,
            RigTurn = _rigTurn,
        };
        // A command waits for what it writes, and some compute for seconds: a thread of its own, none of the pool's.
        int status = await Task.Factory.StartNew(
            () =>
            {
                place.Enter();
                return commands([.. request.Arguments], over.Token);
            },
            over.Token, TaskCreationOptions.LongRunning, TaskScheduler.Default).Unwrap().ConfigureAwait(false);
        log.LogInformation("A command of a terminal ended with {Status}: {Command}", status, request.Arguments is [{ } first, ..] ? first : "");
        await output.FlushAsync().ConfigureAwait(false);
        await error.FlushAsync().ConfigureAwait(false);
        await EndAsync(channel, status, null).ConfigureAwait(false);
        await typing.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private static async Task EndAsync(DoorChannel channel, int status, string? words)
    {
        if (words is not null) await channel.SendAsync(new DoorWords { Error = words + '\n' }).ConfigureAwait(false);
        await channel.SendAsync(new DoorWords { Exit = status }).ConfigureAwait(false);
        await channel.EndAsync().ConfigureAwait(false);
    }

    /// <summary>Takes what is typed, until the terminal ends, which ends the command.</summary>
    private static async Task TakeLinesAsync(DoorChannel channel, DoorReader input, CancellationTokenSource over)
    {
        try
        {
            while (await channel.ReceiveAsync<DoorLine>(over.Token).ConfigureAwait(false) is { } line && input.Take(line))
            {
            }
        }
        finally
        {
            input.End();
            await over.CancelAsync().ConfigureAwait(false);
        }
    }
}
