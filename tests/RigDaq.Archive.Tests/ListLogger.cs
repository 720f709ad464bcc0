using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;

namespace RigDaq.Archive.Tests;

/// <summary>Keeps what was said.</summary>
internal sealed class ListLogger : ILogger
{
    public ConcurrentQueue<(LogLevel Level, string Text)> Entries { get; } = [];

    public bool Said(LogLevel level, string text)
        => Entries.Any(entry => entry.Level == level && entry.Text.Contains(text, StringComparison.Ordinal));

    public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => true;

    public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?,
        string> formatter) =>
        Entries.Enqueue((logLevel, formatter(state, exception)));
}
