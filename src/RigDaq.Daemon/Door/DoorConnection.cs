using System.IO.Pipes;
using System.Net.Sockets;

namespace RigDaq.Daemon.Door;

/// <summary>The way from a terminal to the daemon that has a data folder.</summary>
internal static class DoorConnection
{
    /// <summary>Opens one.</summary>
    /// <param name="dataFolder">The folder.</param>
    /// <param name="late">Gives it up.</param>
    /// <exception cref="IOException">Nobody answers for that folder.</exception>
    public static async ValueTask<Stream> OpenAsync(string dataFolder, CancellationToken late)
    {
        if (OperatingSystem.IsWindows())
        {
            var pipe = new NamedPipeClientStream(".", DoorAddress.PipeName(dataFolder), PipeDirection.InOut,
                PipeOptions.Asynchronous | PipeOptions.CurrentUserOnly);
            await pipe.ConnectAsync(late).ConfigureAwait(false);
            return pipe;
        }

        foreach (string path in DoorAddress.SocketPaths(dataFolder).Where(File.Exists))
        {
            var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
            try
            {
                await socket.ConnectAsync(new UnixDomainSocketEndPoint(path), late).ConfigureAwait(false);
                return new NetworkStream(socket, ownsSocket: true);
            }
            catch (SocketException)
            {
                // One that a killed process left; the next place may have one that answers.
                socket.Dispose();
            }
        }

        throw new IOException();
    }
}
