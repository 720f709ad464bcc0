using System.Net;
using System.Net.Sockets;
using System.Text;
using Microsoft.Extensions.Logging;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A request whose body does not come is its sender's fault: it gets its status, and no line of the log.</summary>
public sealed class SlowRequestTest
{
    [Fact]
    public async Task A_body_that_does_not_come_ends_with_its_status_and_without_a_line_in_the_log()
    {
        var lines = new Lines();
        await using PageHost host = await PageHost.StartAsync(log: lines);
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, host.Url.Port, TestContext.Current.CancellationToken);
        NetworkStream stream = client.GetStream();
        string origin = host.Url.GetLeftPart(UriPartial.Authority);
        await stream.WriteAsync(
            Encoding.ASCII.GetBytes($"POST /api/v1/session HTTP/1.1\r\nHost: {host.Url.Authority}\r\nOrigin: {origin}\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{{"),
            TestContext.Current.CancellationToken);
        // The server waits five seconds of wall time before it reckons how fast a body comes.
        using var late = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        using var reader = new StreamReader(stream);
        Assert.Contains("408", await reader.ReadLineAsync(late.Token), StringComparison.Ordinal);
        Assert.Empty(lines.Written);
    }

    private sealed class Lines : ILoggerProvider, ILogger
    {
        public List<string> Written { get; } = [];

        public ILogger CreateLogger(string categoryName) => this;

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Warning;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?,
            string> formatter)
        {
            lock (Written) Written.Add(formatter(state, exception));
        }

        public void Dispose()
        {
        }
    }
}
