using System.Globalization;
using System.Net.WebSockets;
using System.Text;

namespace RigDaq.Daemon.Door;

/// <summary>What a command in the daemon writes, on its way to the terminal that it was typed at, a line at a time.</summary>
internal sealed class DoorWriter(DoorChannel channel, Func<string, DoorWords> words) : TextWriter(CultureInfo.InvariantCulture)
{
    /// <summary>How much is sent at once where no line ends, in characters; JSON writes one in six bytes at the most.</summary>
    private const int CharactersMax = 16 * 1024;

    private readonly StringBuilder _waiting = new();

    public override Encoding Encoding => Encoding.UTF8;

    public override void Write(char value)
    {
        lock (_waiting)
        {
            _waiting.Append(value);
            if (value == '\n' || _waiting.Length == CharactersMax) Send();
        }
    }

    public override void Write(string? value)
    {
        lock (_waiting)
        {
            foreach (char one in value ?? "")
            {
                _waiting.Append(one);
                if (_waiting.Length == CharactersMax) Send();
            }

            if (value is [.., '\n']) Send();
        }
    }

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void WriteLine(string? value) => Write(value + '\n');

    public override void Flush()
    {
        lock (_waiting) Send();
    }

    private void Send()
    {
        if (_waiting.Length == 0) return;
        string text = _waiting.ToString();
        _waiting.Clear();
        try
        {
            // A command writes as it would to a terminal: it waits until it is written.
            channel.SendAsync(words(text)).GetAwaiter().GetResult();
        }
        catch (Exception gone) when (gone is WebSocketException or OperationCanceledException or ObjectDisposedException)
        {
            throw new IOException(gone.Message, gone);
        }
    }
}
