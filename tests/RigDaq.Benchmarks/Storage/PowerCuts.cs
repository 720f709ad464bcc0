using System.ComponentModel;
using System.Diagnostics;

namespace RigDaq.Benchmarks.Storage;

/// <summary>Kills a process that stores in mid-write, over and over, and counts which of the acknowledged runs are gone.</summary>
/// <param name="root">A folder to work in.</param>
/// <param name="make">Makes the run of a number.</param>
/// <param name="templates">The file that runs are made from.</param>
internal sealed class PowerCuts(string root, Func<int, KeptRun> make, string templates)
{
    /// <summary>The process alone: the operating system still has all that was written.</summary>
    public string Kill(string engine, int times)
    {
        string folder = Directory.CreateDirectory(Path.Combine(root, engine + " killed")).FullName;
        var random = new Random(11);
        int next = 0;
        return Times(times, _ =>
        {
            // A run may be kept although it was not acknowledged: its number is not given again.
            int first = next + 1;
            next = StoreProcess.StoreAndKill(new Way(engine, folder, templates), first, random, null);
            return (first, next, folder);
        }, engine);
    }

    /// <summary>The power: what was flushed is there and nothing since.</summary>
    /// <param name="engine">Which.</param>
    /// <param name="times">How often.</param>
    /// <param name="library">What keeps what is flushed; see <see cref="Library"/>.</param>
    public string Cut(string engine, int times, string library)
    {
        var random = new Random(12);
        return Times(times, i =>
        {
            string live = Directory.CreateDirectory(Path.Combine(root, $"{engine} {i} live")).FullName;
            string disk = Directory.CreateDirectory(Path.Combine(root, $"{engine} {i} disk")).FullName;
            return (0, StoreProcess.StoreAndKill(new Way(engine, live, templates), 0, random, (library, disk)), disk);
        }, engine);
    }

    /// <summary>How many of the runs from a number up to another are not as they were stored.</summary>
    public static int Missing(IRunStore store, Func<int, KeptRun> make, int first, int end) => Enumerable.Range(first, end - first)
        .Select(make).Count(run => store.Text(run.Run.Head.RunId) != run.Text || !Readings.Holds(store.Pull(run.Run.Head.RunId), run));

    /// <summary>Makes the library that keeps what is flushed; null where there is no C compiler or no Linux.</summary>
    public static string? Library(string root)
    {
        if (!OperatingSystem.IsLinux()) return null;
        string library = Path.Combine(root, "flushed.so"), source = Path.Combine(AppContext.BaseDirectory, "Storage", "flushed.c");
        try
        {
            using Process cc = Process.Start("cc", ["-shared", "-fPIC", "-O1", "-o", library, source, "-ldl"]);
            cc.WaitForExit();
            return cc.ExitCode == 0 ? library : null;
        }
        catch (Win32Exception)
        {
            return null;
        }
    }

    private string Times(int times, Func<int, (int First, int End, string Folder)> kill, string engine)
    {
        int acknowledged = 0, lost = 0, hit = 0, dead = 0;
        for (int i = 0; i < times; i++)
        {
            (int first, int end, string folder) = kill(i);
            acknowledged += end - first;
            try
            {
                using IRunStore store = Engines.Open(engine, folder);
                int missing = Missing(store, make, first, end);
                (lost, hit) = (lost + missing, hit + (missing > 0 ? 1 : 0));
            }
            catch (Exception)
            {
                dead++;
            }
        }

        return $"{times} times, {acknowledged} runs acknowledged: {lost} lost, in {hit} of the times; {dead} times nothing could be read";
    }
}
