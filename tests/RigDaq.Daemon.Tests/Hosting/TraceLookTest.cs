using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Archive;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Hosting;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Hosting;

/// <summary>
/// Damaged samples, which a start does not read, are found in the background: in the database and in the captures, and not
/// while something moves.
/// </summary>
public sealed class TraceLookTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-traces-").FullName;
    private readonly FakeTimeProvider _time = new();
    private readonly Heard _log = new();
    private bool _isIdle = true;

    public TraceLookTest()
    {
        using RigArchive archive = Open();
        PulledStudy.Fill(archive, specimensAPrint: 1, loadingSeconds: 0.5);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task What_is_whole_is_not_spoken_of()
    {
        using RigArchive archive = Open();
        await LookAsync(archive);
        Assert.Null(archive.Trouble);
        Assert.Empty(_log.Lines);
    }

    [Fact]
    public async Task A_trace_that_is_damaged_in_the_database_is_trouble_as_any_other_damage()
    {
        string run = SpoilATrace();
        using RigArchive archive = Open();
        Assert.Empty(archive.DatabaseFaults());
        Assert.Null(archive.Trouble);
        await LookAsync(archive);
        Assert.Contains("rigdaq rebuild", archive.Trouble, StringComparison.Ordinal);
        Assert.Contains(_log.Lines, line => line.Contains(run, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_capture_that_is_damaged_is_written_to_the_log()
    {
        string capture = Directory.GetFiles(Path.Combine(_folder, "captures"))[0];
        byte[] whole = File.ReadAllBytes(capture);
        File.WriteAllBytes(capture, whole[..(whole.Length / 2)]);
        using RigArchive archive = Open();
        await LookAsync(archive);
        Assert.Contains(Path.GetFileNameWithoutExtension(capture), Assert.Single(_log.Lines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_read_while_something_moves()
    {
        SpoilATrace();
        using RigArchive archive = Open();
        _isIdle = false;
        await LookAsync(archive);
        Assert.Null(archive.Trouble);
    }

    private RigArchive Open() => new(_folder, TimeProvider.System, NullLogger.Instance);

    private async Task LookAsync(RigArchive archive)
    {
        using var look = new TraceLook(archive, () => _isIdle, _time, _log);
        await look.StartAsync(TestContext.Current.CancellationToken);
        // It begins, and each step goes on, on another thread: the clock is moved until it has ended, or long enough to see
        // that it waits.
        for (int i = 0; i < (_isIdle ? 4_000 : 200) && !look.ExecuteTask!.IsCompleted; i++)
        {
            _time.Advance(TraceLook.After);
            await Task.Delay(5, TestContext.Current.CancellationToken);
        }

        Assert.Equal(_isIdle, look.ExecuteTask!.IsCompleted);
        await look.StopAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>Turns a byte of a run's stored samples, so that nothing else is touched; the run's id.</summary>
    private string SpoilATrace()
    {
        string database = Path.Combine(_folder, "runs.db");
        byte[] whole = File.ReadAllBytes(database);
        for (int at = whole.Length - 100; at > 8192; at -= 331)
        {
            byte[] spoilt = [.. whole];
            spoilt[at] ^= 0xFF;
            File.WriteAllBytes(database, spoilt);
            using RigArchive archive = Open();
            if (archive.DatabaseFaults().Count > 0) continue;
            foreach (Run run in archive.Runs.OfStudy(PulledStudy.Id))
            {
                try
                {
                    archive.Runs.FindPull(run.Head.RunId);
                }
                catch (IOException)
                {
                    return run.Head.RunId;
                }
            }
        }

        throw new InvalidOperationException("No byte of a trace was found.");
    }

    private sealed class Heard : ILogger
    {
        private readonly List<string> _lines = [];

        public string[] Lines
        {
            get { lock (_lines) return [.. _lines]; }
        }

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?,
            string> formatter)
        {
            lock (_lines) _lines.Add(formatter(state, exception));
        }
    }
}
