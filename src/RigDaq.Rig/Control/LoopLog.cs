using System.Threading.Channels;
using Microsoft.Extensions.Logging;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>What the control loop says, handed to a task that writes it: a console that nobody reads, a full pipe or a slow disk holds that
/// task up and never the loop. Bounded; what has no room is counted, and so is what repeats itself faster than anyone reads.</summary>
internal sealed class LoopLog : ILogger, IAsyncDisposable
{
    /// <summary>How many lines may wait.</summary>
    public const int LinesMax = 512;

    /// <summary>How many lines of one kind are written in <see cref="Window"/>; the next one after it says how many were left
    /// out.</summary>
    public const int LinesOfAKindMax = 10;

    /// <summary>How many kinds are told apart; more would be a fault of the program.</summary>
    private const int KindsMax = 256;

    /// <summary>The time that <see cref="LinesOfAKindMax"/> counts for.</summary>
    public static readonly TimeSpan Window = TimeSpan.FromSeconds(10);

    /// <summary>How long ending waits for the last lines.</summary>
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(1);

    private readonly ILogger _inner;
    private readonly TimeProvider _time;
    private readonly Channel<Line> _lines = Channel.CreateBounded<Line>(new BoundedChannelOptions(LinesMax) { SingleReader = true });
    private readonly Dictionary<string, Kind> _kinds = new(StringComparer.Ordinal);
    private readonly Task _writing;
    private long _dropped;

    public LoopLog(ILogger inner, TimeProvider time)
    {
        _inner = inner;
        _time = time;
        _writing = Task.Run(WriteAsync);
    }

    /// <summary>Lines that were not written, because nobody took them or because they repeated themselves.</summary>
    public long Dropped => Interlocked.Read(ref _dropped);

    public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => _inner.IsEnabled(logLevel);

    public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception,
        Func<TState, Exception?, string> formatter)
    {
        if (!_inner.IsEnabled(logLevel)) return;
        if (!_lines.Writer.TryWrite(new Line(logLevel, Template(state), formatter(state, exception), exception)))
            Interlocked.Increment(ref _dropped);
    }

    public async ValueTask DisposeAsync()
    {
        _lines.Writer.TryComplete();
        await Task.WhenAny(_writing, Task.Delay(EndMax)).ConfigureAwait(false);
    }

    /// <summary>The sentence without what is filled in, as the logging library hands it over.</summary>
    private static string Template<TState>(TState state) =>
        state is IReadOnlyList<KeyValuePair<string, object?>> { Count: > 0 } values && values[^1].Value is string template ? template : "";

    private async Task WriteAsync()
    {
        await foreach (Line line in _lines.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            try
            {
                if (MayWrite(line, out long leftOut)) Write(line, leftOut);
            }
            catch (Exception)
            {
                // A logger that fails has nowhere to say so.
                Interlocked.Increment(ref _dropped);
            }
        }
    }

    private void Write(Line line, long leftOut)
    {
        string message = leftOut > 0 ? RigText.LogLeftOut(line.Message, leftOut) : line.Message;
        _inner.Log(line.Level, line.Exception, "{Message}", message);
    }

    private bool MayWrite(Line line, out long leftOut)
    {
        leftOut = 0;
        long now = _time.GetTimestamp();
        if (!_kinds.TryGetValue(line.Template, out Kind? kind))
        {
            if (_kinds.Count >= KindsMax) _kinds.Clear();
            _kinds[line.Template] = kind = new Kind { Since = now };
        }

        if (_time.GetElapsedTime(kind.Since, now) >= Window)
        {
            leftOut = kind.LeftOut;
            kind.Since = now;
            kind.Lines = 0;
            kind.LeftOut = 0;
        }

        if (++kind.Lines <= LinesOfAKindMax) return true;
        kind.LeftOut++;
        Interlocked.Increment(ref _dropped);
        return false;
    }

    private sealed record Line(LogLevel Level, string Template, string Message, Exception? Exception);

    private sealed class Kind
    {
        public long Since { get; set; }

        public int Lines { get; set; }

        public long LeftOut { get; set; }
    }
}
