using System.Diagnostics;
using System.Globalization;

namespace RigDaq.Benchmarks.Storage;

/// <summary>
/// LiteDB and SQLite side by side, for docs/decisions/storage.md: speed and size with 10,000 runs, reads beside whoever stores, a copy
/// while it stores, kills in mid-write, and what a power cut leaves (Linux with a C compiler; elsewhere left out, and said). Ratios in one
/// process on one machine; the machine's load and what a flush costs are said with them.
/// </summary>
internal static class StorageCost
{
    private const int Runs = 10_000, Known = 2_000, Reads = 2_000, Lists = 100, Kills = 15, Cuts = 12, Fresh = 200;
    private static readonly string[] Both = [Engines.Kept, Engines.Sqlite], All = [Engines.Kept, Engines.Bare, Engines.Sqlite];

    public static void Measure(TextWriter output)
    {
        string root = Directory.CreateTempSubdirectory("rigdaq-storage-").FullName;
        try
        {
            string templates = Path.Combine(root, "templates");
            KeptRun.WriteTemplates(templates);
            Func<int, KeptRun> make = KeptRun.Maker(templates);
            Say(Machine(root));
            SpeedAndSize(root, make, Say);
            foreach (string engine in All) Beside(new Way(engine, Path.Combine(root, engine), templates), make, Say);
            foreach (string engine in Both) CopyBeside(engine, Path.Combine(root, engine), make, Say);
            var cuts = new PowerCuts(root, make, templates);
            foreach (string engine in Both) Say($"{engine}, killed in mid-write: {cuts.Kill(engine, Kills)}");
            if (PowerCuts.Library(root) is not { } library) Say("Power cuts were left out: they take Linux and a C compiler (cc).");
            else foreach (string engine in All) Say($"{engine}, power cut in mid-write: {cuts.Cut(engine, Cuts, library)}");
            Say(Machine(root));
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }

        void Say(string line)
        {
            output.WriteLine(line);
            output.Flush();
        }
    }

    private static string Machine(string folder)
    {
        string load = File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg")[..14] : "unknown";
        using FileStream plain = File.Create(Path.Combine(folder, "plain"));
        byte[] block = new byte[16_384];
        double flush = Median(200, _ =>
        {
            plain.Write(block);
            plain.Flush(flushToDisk: true);
        });
        return Invariant($"{Environment.ProcessorCount} cores, load {load}; 16 kB to a plain file and flushed: {flush * 1e3:0.00} ms");
    }

    private static void SpeedAndSize(string root, Func<int, KeptRun> make, Action<string> say)
    {
        KeptRun[] runs = [.. Enumerable.Range(0, Runs).Select(make)];
        // A run stands in there as the latest, as its first revision, and as the message that waits.
        double content = runs.Sum(run => (3.0 * System.Text.Encoding.UTF8.GetByteCount(run.Text)) + run.Pull.Length
            + run.Pieces.Sum(piece => piece.Length));
        var took = new List<(string What, double Seconds)>();
        foreach (string engine in Both)
        {
            string folder = Directory.CreateDirectory(Path.Combine(root, engine)).FullName;
            took.AddRange(Speed(engine, folder, runs));
            long size = new DirectoryInfo(folder).EnumerateFiles().Sum(file => file.Length);
            say(Invariant($"{engine}: {Runs} runs take {size / 1e6:0.00} MB, {size / content:0.00} times what is in them"));
        }

        foreach (var both in took.GroupBy(line => line.What))
        {
            double lite = both.First().Seconds, sqlite = both.Last().Seconds;
            say(Invariant($"{both.Key}: LiteDB {lite * 1e3:0.000} ms, SQLite {sqlite * 1e3:0.000} ms, ratio {sqlite / lite:0.00}"));
        }
    }

    private static List<(string What, double Seconds)> Speed(string engine, string folder, KeptRun[] runs)
    {
        var random = new Random(3);
        var took = new List<(string, double)>();
        using (IRunStore store = Engines.Open(engine, folder)) took.Add(("store a run", Median(Runs, i => store.Store(runs[i]))));
        long start = Stopwatch.GetTimestamp();
        using (IRunStore store = Engines.Open(engine, folder))
        {
            store.Text(AnyId());
            took.Add(("open, and read one run", Stopwatch.GetElapsedTime(start).TotalSeconds));
            took.Add(("read a run", Median(Reads, _ => store.Text(AnyId()))));
            took.Add(("read a run's samples", Median(Reads, _ => store.Pull(AnyId()))));
            took.Add(("list the latest fifty", Median(Lists, _ => store.Latest(50))));
            took.Add(("list a study's hundred", Median(Lists, _ => store.OfStudy(KeptRun.StudyOf(random.Next(Runs))))));
        }

        return took;

        string AnyId() => KeptRun.IdOf(random.Next(Runs));
    }

    private static void Beside(Way way, Func<int, KeptRun> make, Action<string> say)
    {
        // What the library does to a file when nobody waits for anybody is not to harm the other's.
        if (way.Engine == Engines.Bare) CopyFiles(way.Folder.Replace(Engines.Bare, Engines.Kept, StringComparison.Ordinal), way.Folder);
        // The reader is another process: it is waited for in wall time.
        say($"{way.Engine}, threads read beside one that stores: {StoreProcess.Ask("beside", way, Known, () => Thread.Sleep(10))}");
        using IRunStore store = Engines.Open(way.Engine, way.Folder);
        var storing = new Storing(store, make);
        string read = StoreProcess.Ask("read", way, Known, storing.One);
        say($"{way.Engine}, another process reads beside it: {read}; {storing}");
    }

    private static void CopyBeside(string engine, string folder, Func<int, KeptRun> make, Action<string> say)
    {
        string copy = Directory.CreateDirectory(folder + " backup").FullName;
        int first = 2 * Runs, next = first, before;
        double worst = 0, took = 0;
        using (IRunStore store = Engines.Open(engine, folder))
        {
            while (next < first + Fresh) store.Store(make(next++));
            before = next;
            var backup = new Thread(() => took = Median(1, _ => store.Backup(copy)));
            backup.Start();
            while (backup.IsAlive) worst = Math.Max(worst, Median(1, _ => store.Store(make(next++))));
            backup.Join();
        }

        using IRunStore copied = Engines.Open(engine, copy);
        int missing = PowerCuts.Missing(copied, make, first, before) + PowerCuts.Missing(copied, make, 0, Known);
        say(Invariant($"{engine}, copied while it stores: {took:0.00} s; {next - before} runs came meanwhile, the slowest took ")
            + Invariant($"{worst * 1e3:0} ms; of {before - first + Known} stored before, {missing} are missing in the copy"));
    }

    private static double Median(int times, Action<int> work)
    {
        double[] seconds = new double[times];
        for (int i = 0; i < times; i++)
        {
            long start = Stopwatch.GetTimestamp();
            work(i);
            seconds[i] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }

        Array.Sort(seconds);
        return seconds[times / 2];
    }

    private static void CopyFiles(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (string file in Directory.EnumerateFiles(from)) File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
