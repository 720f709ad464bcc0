using System.Diagnostics;
using System.Globalization;

namespace RigDaq.Benchmarks.Storage;

/// <summary>Stores one run after the other and counts what came of it.</summary>
/// <param name="store">Where.</param>
/// <param name="make">Makes the run of a number; whoever stores has numbers of its own.</param>
internal sealed class Storing(IRunStore store, Func<int, KeptRun> make)
{
    private const int Numbers = 10_000, Processes = 10_000;
    private static int Begun = (Environment.ProcessId % Processes) + 10;

    private int _next = Interlocked.Increment(ref Begun) * Numbers;
    private int _stored, _failed;
    private double _worst;

    public void One()
    {
        KeptRun run = make(_next++);
        long start = Stopwatch.GetTimestamp();
        try
        {
            store.Store(run);
            _stored++;
        }
        catch (Exception)
        {
            _failed++;
        }

        _worst = Math.Max(_worst, Stopwatch.GetElapsedTime(start).TotalSeconds);
    }

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture, $"{_stored} stored meanwhile, {_failed} could not be, the slowest took {_worst * 1e3:0} ms");
}
