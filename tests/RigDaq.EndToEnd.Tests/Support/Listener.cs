using System.Diagnostics;
using System.Text.Json;
using System.Threading.Channels;

namespace RigDaq.EndToEnd.Tests.Support;

/// <summary>A message as Debian's mosquitto_sub saw it.</summary>
internal sealed record HeardMessage(string Topic, JsonElement Payload);

/// <summary>Debian's mosquitto_sub as a client that we did not write.</summary>
internal sealed class Listener : IAsyncDisposable
{
    public const string Program = "/usr/bin/mosquitto_sub";

    private readonly Process _process;
    private readonly Channel<HeardMessage> _heard = Channel.CreateUnbounded<HeardMessage>();

    private Listener(Process process)
    {
        _process = process;
        process.OutputDataReceived += (_, line) =>
        {
            if (line.Data is not { } text) return;
            int space = text.IndexOf(' ', StringComparison.Ordinal);
            _heard.Writer.TryWrite(new HeardMessage(text[..space], JsonDocument.Parse(text[(space + 1)..]).RootElement));
        };
        process.BeginOutputReadLine();
    }

    public static Listener Start(int port, string topics) => Start(port, [], topics);

    /// <summary>The same with more options, of a session that stays for example, and several topics.</summary>
    public static Listener Start(int port, string[] options, params string[] topics)
    {
        var start = new ProcessStartInfo(Program) { RedirectStandardOutput = true };
        string[] arguments =
        [
            "-h", "127.0.0.1", "-p", port.ToString(System.Globalization.CultureInfo.InvariantCulture), "-v", "-q", "1", .. options,
                .. topics.SelectMany(topic => new[] { "-t", topic }),
        ];
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        return new Listener(Process.Start(start)!);
    }

    /// <summary>Everything heard until it is ended by <see cref="EndInOrderAsync"/>.</summary>
    public IAsyncEnumerable<HeardMessage> AllAsync() => _heard.Reader.ReadAllAsync();

    /// <summary>Lets it take its leave of the broker (SIGTERM) and hand on what it has.</summary>
    public async Task EndInOrderAsync()
    {
        using Process kill = Process.Start("kill", ["-TERM", _process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        await kill.WaitForExitAsync();
        // Its output has been read to the end when this comes back.
        await _process.WaitForExitAsync();
        _heard.Writer.TryComplete();
    }

    /// <summary>Everything heard until a message for which <paramref name="last"/> holds, that one included.</summary>
    public async Task<IReadOnlyList<HeardMessage>> UntilAsync(Func<HeardMessage, bool> last, TimeSpan bound)
    {
        using var ended = new CancellationTokenSource(bound);
        var all = new List<HeardMessage>();
        await foreach (HeardMessage message in _heard.Reader.ReadAllAsync(ended.Token))
        {
            all.Add(message);
            if (last(message)) return all;
        }

        throw new InvalidOperationException("The listener ended.");
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
    }
}
