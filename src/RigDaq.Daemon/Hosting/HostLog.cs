using Microsoft.Extensions.Logging.Console;
using RigDaq.App.Configuration;

namespace RigDaq.Daemon.Hosting;

/// <summary>The one factory of loggers of a running daemon, for the whole of its life: web host, archive and rig write by it. Its lines go
/// to standard error, because standard output belongs to answers; where nobody takes them they are dropped, and nobody waits.</summary>
internal static class HostLog
{
    /// <summary>How many lines may wait for a console that takes none.</summary>
    private const int LinesMax = 1_000;

    private const string Time = "yyyy-MM-ddTHH:mm:ss.fffZ";

    /// <summary>Makes it.</summary>
    public static ILoggerFactory Create(LogOptions options) => LoggerFactory.Create(logging => Formatted(logging, options.Format)
        .SetMinimumLevel(options.MinimumLevel)
        // The framework's own chatter is of no use below a warning, whatever is wanted of this program.
        .AddFilter("Microsoft", level => level >= LogLevel.Warning && level >= options.MinimumLevel)
        .Services.Configure<ConsoleLoggerOptions>(console =>
        {
            console.LogToStandardErrorThreshold = LogLevel.Trace;
            console.MaxQueueLength = LinesMax;
            console.QueueFullMode = ConsoleLoggerQueueFullMode.DropWrite;
        }));

    private static ILoggingBuilder Formatted(ILoggingBuilder logging, string format) => format switch
    {
        "json" => logging.AddJsonConsole(console => (console.UseUtcTimestamp, console.TimestampFormat) = (true, Time)),
        "journal" => logging.AddSystemdConsole(),
        _ => logging.AddSimpleConsole(console =>
            (console.SingleLine, console.UseUtcTimestamp, console.TimestampFormat) = (true, true, Time + " ")),
    };
}
