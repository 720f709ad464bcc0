using System.Threading.Channels;
using RigDaq.Text;

namespace RigDaq.Daemon.Terminal;

/// <summary>Typed lines by a thread of their own: a console read cannot be given up.</summary>
internal sealed class TypedLines
{
    private readonly Channel<string> _lines = Channel.CreateBounded<string>(16);

    public TypedLines(TextReader input) => new Thread(() => Read(input)) { IsBackground = true, Name = "typed words" }.Start();

    public ValueTask<string> NextAsync(CancellationToken cancellation) => _lines.Reader.ReadAsync(cancellation);

    public async Task<bool> SaysAsync(string word, Sentence prompt, Action<Sentence> say, CancellationToken cancellation) =>
        string.Equals(await AnswerAsync(prompt, say, cancellation).ConfigureAwait(false), word, StringComparison.OrdinalIgnoreCase);

    /// <summary>The next line, trimmed; null where the terminal is gone.</summary>
    public async Task<string?> AnswerAsync(Sentence prompt, Action<Sentence> say, CancellationToken cancellation)
    {
        // What was typed before was meant for something else.
        while (_lines.Reader.TryRead(out _)) { }
        say(prompt);
        try
        {
            return (await NextAsync(cancellation).ConfigureAwait(false)).Trim();
        }
        catch (ChannelClosedException)
        {
            return null;
        }
    }

    /// <summary>Does something that any typed line stops.</summary>
    /// <returns>False where a line did.</returns>
    public async Task<bool> WhileWatchedAsync(Func<CancellationToken, Task> work, CancellationToken cancellation)
    {
        using var stopped = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        using var watched = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        Task watching = StopWhenTypedAsync(stopped, watched.Token);
        try
        {
            await work(stopped.Token).ConfigureAwait(false);
            return true;
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            return false;
        }
        finally
        {
            await watched.CancelAsync().ConfigureAwait(false);
            await watching.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private async Task StopWhenTypedAsync(CancellationTokenSource stopped, CancellationToken watched)
    {
        try
        {
            await NextAsync(watched).ConfigureAwait(false);
        }
        catch (ChannelClosedException)
        {
            // The terminal is gone, and with it whoever could have stopped it.
        }

        await stopped.CancelAsync().ConfigureAwait(false);
    }

    private void Read(TextReader input)
    {
        try
        {
            while (input.ReadLine() is { } line) _lines.Writer.WriteAsync(line).AsTask().Wait();
        }
        catch (Exception fault) when (fault is IOException or ObjectDisposedException)
        {
            // The terminal is gone: the same as the end of input.
        }

        _lines.Writer.TryComplete();
    }
}
