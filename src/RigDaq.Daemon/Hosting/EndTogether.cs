using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Hosting;

/// <summary>Parts that are ended together, the last one first: what one of them throws is said, and the others are ended all the
/// same.</summary>
/// <param name="time">Bounds each part; null for wall time.</param>
internal sealed class EndTogether(TimeProvider? time = null)
{
    /// <summary>How long one part may take; then it is left alone and said.</summary>
    public static readonly TimeSpan PartMax = TimeSpan.FromSeconds(40);

    private readonly Stack<(string Name, Func<ValueTask> End)> _parts = new();

    /// <summary>Adds a part that is disposed.</summary>
    public void Add(string name, object part) => Add(name, () =>
    {
        if (part is IAsyncDisposable later) return later.DisposeAsync();
        ((IDisposable)part).Dispose();
        return ValueTask.CompletedTask;
    });

    /// <summary>Adds a part by how it is ended.</summary>
    public void Add(string name, Func<ValueTask> end) => _parts.Push((name, end));

    /// <summary>Ends them all.</summary>
    public async Task EndAsync(Action<Sentence> say)
    {
        while (_parts.TryPop(out (string Name, Func<ValueTask> End) part))
        {
            try
            {
                await part.End().AsTask().WaitAsync(PartMax, time ?? TimeProvider.System).ConfigureAwait(false);
            }
            catch (Exception e)
            {
                // Whatever one part throws, the archive behind it is to be closed.
                say(TerminalText.ServeEndFailed(part.Name, e.Message));
            }
        }
    }
}
