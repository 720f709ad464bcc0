namespace RigDaq.Benchmarks.Storage;

/// <summary>Threads that read beside one that stores, in one process and over one open database, as the daemon's do.</summary>
internal static class ThreadsBeside
{
    private const int Readers = 6;

    /// <returns>What it came to, in words.</returns>
    public static string Run(string engine, string folder, Func<int, KeptRun> make, int known, TimeSpan time)
    {
        var readings = new Readings(make, known);
        using IRunStore store = Engines.Open(engine, folder);
        var storing = new Storing(store, make);
        using var end = new CancellationTokenSource(time);
        Thread[] readers = [.. Enumerable.Range(0, Readers)
            .Select(seed => new Thread(() => Read(store, readings, new Random(seed), end.Token)))];
        foreach (Thread reader in readers) reader.Start();
        while (!end.IsCancellationRequested) storing.One();
        foreach (Thread reader in readers) reader.Join();
        return $"{readings}; {storing}";
    }

    private static void Read(IRunStore store, Readings readings, Random random, CancellationToken end)
    {
        while (!end.IsCancellationRequested) readings.One(() => store, random);
    }
}
