namespace RigDaq.Daemon.Commands;

/// <summary>What an archive finds amiss while a command has it open, said to who typed the command.</summary>
internal sealed class TerminalLogger : ILogger
{
    public static readonly TerminalLogger Instance = new();

    public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Warning;

    public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception,
        Func<TState, Exception?, string> formatter)
    {
        if (IsEnabled(logLevel)) CommandRunner.Say(formatter(state, exception));
    }
}
