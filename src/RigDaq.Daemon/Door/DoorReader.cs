using System.Net.WebSockets;
using System.Threading.Channels;

namespace RigDaq.Daemon.Door;

/// <summary>What a person types at a terminal, for a command in the daemon: asked for a line at a time.</summary>
/// <param name="channel">The way to the terminal.</param>
/// <param name="beforehand">Sends the question first that a line is to answer.</param>
internal sealed class DoorReader(DoorChannel channel, Action beforehand) : TextReader
{
    // One line is asked for, and one comes.
    private readonly Channel<string?> _lines = Channel.CreateBounded<string?>(1);

    /// <summary>Takes a line that came; false where none was asked for.</summary>
    public bool Take(DoorLine line) => _lines.Writer.TryWrite(line.Line);

    /// <summary>Nothing comes any more.</summary>
    public void End() => _lines.Writer.TryComplete();

    /// <summary>The next line; null where nobody types any more.</summary>
    public override string? ReadLine()
    {
        try
        {
            beforehand();
            channel.SendAsync(new DoorWords { Ask = true }).GetAwaiter().GetResult();
        }
        catch (Exception gone) when (gone is IOException or WebSocketException or OperationCanceledException or ObjectDisposedException)
        {
            return null;
        }

        return _lines.Reader.WaitToReadAsync().AsTask().GetAwaiter().GetResult() && _lines.Reader.TryRead(out string? line) ? line : null;
    }

    public override int Read() => throw new NotSupportedException("Lines only.");
}
