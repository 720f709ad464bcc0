using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Rig.Control;

namespace RigDaq.Rig.Tests.Control;

/// <summary>What the control loop says never holds it up, and does not flood.</summary>
public sealed class LoopLogTest
{
    [Fact]
    public async Task A_logger_that_blocks_holds_nobody_up_and_what_has_no_room_is_counted()
    {
        using var written = new Written { Blocks = true };
        await using var log = new LoopLog(written, TimeProvider.System);
        long began = TimeProvider.System.GetTimestamp();
        for (int i = 0; i < 5_000; i++) log.LogWarning(new EventId(i), "Line {Number} of {Kind}", i, i);
        // Wall time with a wide margin: what it would take is for ever.
        Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(5));
        Assert.True(log.Dropped >= 5_000 - LoopLog.LinesMax - 1);
        written.GoOn();
    }

    [Fact]
    public async Task What_repeats_itself_is_left_out_and_the_next_line_says_how_often()
    {
        var time = new FakeTimeProvider();
        using var written = new Written();
        await using (var log = new LoopLog(written, time))
        {
            for (int i = 0; i < 100; i++)
            {
                log.LogWarning("Hello number {Number}", i);
                log.LogError("Something else {Number}", 0);
            }

            await written.UntilAsync(lines => lines.Count == 2 * LoopLog.LinesOfAKindMax);
            // The writer may still be at lines that it leaves out.
            while (log.Dropped < 180) await Task.Yield();
            time.Advance(LoopLog.Window);
            log.LogWarning("Hello number {Number}", 100);
            await written.UntilAsync(lines => lines.Count > 2 * LoopLog.LinesOfAKindMax);
        }

        Assert.Equal("Hello number 100 (90 more like this were left out.)", written.Lines[^1]);
        Assert.Equal("Hello number 0", written.Lines[0]);
    }

    private sealed class Written : ILogger, IDisposable
    {
        private readonly ManualResetEventSlim _may = new(true);
        private readonly List<string> _lines = [];

        public bool Blocks
        {
            init
            {
                if (value) _may.Reset();
            }
        }

        public IReadOnlyList<string> Lines
        {
            get
            {
                lock (_lines) return [.. _lines];
            }
        }

        public void GoOn() => _may.Set();

        public void Dispose() => _may.Dispose();

        public async Task UntilAsync(Func<IReadOnlyList<string>, bool> seen)
        {
            // Wall time: the lines are written by a task.
            for (int i = 0; !seen(Lines); i++)
            {
                Assert.True(i < 1_000, "not written in 10 s");
                // Wall time: another thread writes.
                await Task.Delay(10, TestContext.Current.CancellationToken);
            }
        }

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?,
            string> formatter)
        {
            _may.Wait(TimeSpan.FromSeconds(20));
            lock (_lines) _lines.Add(formatter(state, exception));
        }
    }
}
