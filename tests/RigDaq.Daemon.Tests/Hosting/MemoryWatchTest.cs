using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Daemon.Hosting;

namespace RigDaq.Daemon.Tests.Hosting;

/// <summary>Memory as a whole: above its bound what strangers fill is let go, again and again, and no thread is held up while something
/// moves.</summary>
public sealed class MemoryWatchTest : IDisposable
{
    private readonly FakeTimeProvider _time = new();
    private readonly List<bool> _told = [];
    private readonly MemoryWatch _watch;
    private long _bytes = 100L << 20;
    private int _pausesAsked;

    public MemoryWatchTest()
    {
        _watch = new MemoryWatch([_told.Add], () => ++_pausesAsked < 0, _time, NullLogger.Instance, () => _bytes);
        _watch.StartAsync(TestContext.Current.CancellationToken);
    }

    public void Dispose() => _watch.Dispose();

    [Fact]
    public void Below_the_bound_nothing_is_let_go()
    {
        _bytes = MemoryWatch.BytesMax;
        _time.Advance(TimeSpan.FromMinutes(5));
        Assert.Empty(_told);
    }

    [Fact]
    public void Above_it_memory_is_let_go_within_a_second_and_again_while_it_stays_so()
    {
        _bytes = MemoryWatch.BytesMax + 1;
        _time.Advance(MemoryWatch.Every);
        Assert.Equal([true], _told);
        _time.Advance(MemoryWatch.LetGoEvery - MemoryWatch.Every);
        Assert.Single(_told);
        _time.Advance(MemoryWatch.Every);
        Assert.Equal([true, true], _told);
        // Whether all threads may stand still is asked each time.
        Assert.Equal(2, _pausesAsked);
    }

    [Fact]
    public void It_is_tight_until_there_is_clearly_enough()
    {
        _bytes = MemoryWatch.BytesMax + 1;
        _time.Advance(MemoryWatch.Every);
        _bytes = MemoryWatch.EnoughBytes;
        _time.Advance(2 * MemoryWatch.Every);
        Assert.Equal([true], _told);
        _bytes = MemoryWatch.EnoughBytes - 1;
        _time.Advance(MemoryWatch.Every);
        Assert.Equal([true, false], _told);
    }
}
