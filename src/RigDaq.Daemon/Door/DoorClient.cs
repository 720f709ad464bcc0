using System.Net.Sockets;
using System.Net.WebSockets;
using System.Text.Json;
using RigDaq.App.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Door;

/// <summary>Has the daemon that holds a data folder do what was typed here; what it says is said here.</summary>
internal static class DoorClient
{
    /// <summary>How long a daemon may take to answer, before nobody counts as there.</summary>
    internal static readonly TimeSpan ConnectTime = TimeSpan.FromSeconds(5);

    private static readonly Uri Address = new("ws://rigdaq" + DoorServer.Path);

    /// <summary>Runs a command there.</summary>
    /// <param name="dataFolder">The folder that a daemon has.</param>
    /// <param name="request">The command.</param>
    /// <param name="here">Where it was typed.</param>
    /// <param name="cancellation">Called off by the person; the command there ends with it.</param>
    /// <returns>Its exit status; null where nobody answers for that folder.</returns>
    /// <exception cref="CannotBeDoneException">The daemon ended in the middle of it.</exception>
    public static Task<int?> RunAsync(string dataFolder, DoorRequest request, DoorTerminal here, CancellationToken cancellation) =>
        RunAsync(dataFolder, request, here, ConnectTime, cancellation);

    internal static async Task<int?> RunAsync(string dataFolder, DoorRequest request, DoorTerminal here, TimeSpan connectTime,
        CancellationToken cancellation)
    {
        using var socket = new ClientWebSocket();
        using var handler = new SocketsHttpHandler { ConnectCallback = (_, late) => DoorConnection.OpenAsync(dataFolder, late) };
        using var invoker = new HttpMessageInvoker(handler, disposeHandler: false);
        using (var late = CancellationTokenSource.CreateLinkedTokenSource(cancellation))
        {
            late.CancelAfter(connectTime);
            try
            {
                await socket.ConnectAsync(Address, invoker, late.Token).ConfigureAwait(false);
            }
            catch (Exception e) when (e is WebSocketException or IOException or SocketException
                || (e is OperationCanceledException && !cancellation.IsCancellationRequested))
            {
                return null;
            }
        }

        using var channel = new DoorChannel(socket);
        try
        {
            await channel.SendAsync(request).ConfigureAwait(false);
            while (await channel.ReceiveAsync<DoorWords>(cancellation).ConfigureAwait(false) is { } words)
            {
                if (words.Exit is { } status) return status;
                if (words.Output is { } output) here.Output.Write(output);
                if (words.Error is { } error) here.Error.Write(error);
                // Beside what is still written: at the rig a person is led on while nothing is typed. One line is asked for at a time.
                if (words.Ask == true) _ = AnswerAsync(channel, here, cancellation);
            }
        }
        catch (Exception e) when (e is WebSocketException or JsonException)
        {
            // Said below.
        }

        cancellation.ThrowIfCancellationRequested();
        throw new CannotBeDoneException(TerminalText.DoorLost);
    }

    private static async Task AnswerAsync(DoorChannel channel, DoorTerminal here, CancellationToken cancellation)
    {
        try
        {
            await channel.SendAsync(new DoorLine(await Task.Run(() => Line(here.Input), cancellation).ConfigureAwait(false)))
                .ConfigureAwait(false);
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException or ObjectDisposedException)
        {
            // The command has ended meanwhile: nobody waits for the line any more.
        }
    }

    private static string? Line(TextReader input)
    {
        try
        {
            return input.ReadLine();
        }
        catch (IOException)
        {
            // The terminal is gone: the same as the end of input.
            return null;
        }
    }
}
