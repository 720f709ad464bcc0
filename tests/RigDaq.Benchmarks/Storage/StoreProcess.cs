using System.Diagnostics;
using System.Globalization;

namespace RigDaq.Benchmarks.Storage;

/// <summary>This program once more: to be killed, to read beside the one that stores, or because it may break down.</summary>
internal static class StoreProcess
{
    /// <summary>The first argument of such a process.</summary>
    public const string Mode = "storage-child";

    private const string Stored = "stored ";
    private const int RunsToAKill = 250;
    private const double MillisecondsToAKill = 4;
    private static readonly TimeSpan Reading = TimeSpan.FromSeconds(6), Patience = TimeSpan.FromSeconds(60);

    /// <summary>Stores runs from a number on in a process of its own, and kills it in mid-write.</summary>
    /// <param name="way">Engine, folder and templates.</param>
    /// <param name="first">The first run's number.</param>
    /// <param name="random">When it is killed.</param>
    /// <param name="flushed">The library that keeps what was flushed, and the folder where; null for neither.</param>
    /// <returns>The number after that of the last run that the process said was stored.</returns>
    public static int StoreAndKill(Way way, int first, Random random, (string Library, string Folder)? flushed)
    {
        using Process child = Start("store", way, $"{first}", flushed is { } kept
            ? new() { ["LD_PRELOAD"] = kept.Library, ["FLUSHED_FROM"] = way.Folder, ["FLUSHED_TO"] = kept.Folder } : []);
        int last = first + random.Next(1, RunsToAKill), next = first;
        while (child.StandardOutput.ReadLine() is { } line)
        {
            if (!line.StartsWith(Stored, StringComparison.Ordinal)) continue;
            next = int.Parse(line.AsSpan(Stored.Length), CultureInfo.InvariantCulture) + 1;
            if (next != last) continue;
            // Wall time on purpose: the kill is to fall anywhere within a write.
            Thread.Sleep(TimeSpan.FromMilliseconds(random.NextDouble() * MillisecondsToAKill));
            child.Kill();
        }

        child.WaitForExit();
        return next;
    }

    /// <summary>Has another process do something with the first runs of a store.</summary>
    /// <param name="what">"beside": threads read beside one that stores; "read": it reads only.</param>
    /// <param name="way">Engine, folder and templates.</param>
    /// <param name="known">Runs below this number are stored.</param>
    /// <param name="meanwhile">Done over and over until it has ended.</param>
    /// <returns>What it said.</returns>
    public static string Ask(string what, Way way, int known, Action meanwhile)
    {
        using Process child = Start(what, way, $"{known}", []);
        Task<string> said = child.StandardOutput.ReadToEndAsync();
        var clock = Stopwatch.StartNew();
        while (!said.IsCompleted && clock.Elapsed < Patience) meanwhile();
        if (!said.IsCompleted) child.Kill();
        child.WaitForExit();
        return said.Result.Trim() is { Length: > 0 } text ? text : $"it broke down (status {child.ExitCode})";
    }

    /// <summary>What such a process does.</summary>
    public static void Run(string[] args)
    {
        var way = new Way(args[2], args[3], args[4]);
        Func<int, KeptRun> make = KeptRun.Maker(way.Templates);
        int number = int.Parse(args[5], CultureInfo.InvariantCulture);
        switch (args[1])
        {
            case "store":
                StoreOn(way, make, number);
                break;
            case "beside":
                Console.Out.WriteLine(ThreadsBeside.Run(way.Engine, way.Folder, make, number, Reading));
                break;
            default:
                Console.Out.WriteLine(Read(way, new Readings(make, number)));
                break;
        }
    }

    private static void StoreOn(Way way, Func<int, KeptRun> make, int number)
    {
        using IRunStore store = Engines.Open(way.Engine, way.Folder);
        while (true)
        {
            store.Store(make(number));
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Stored}{number++}"));
            Console.Out.Flush();
        }
    }

    private static Readings Read(Way way, Readings reading)
    {
        var random = new Random(1);
        IRunStore? open = null;
        for (var clock = Stopwatch.StartNew(); clock.Elapsed < Reading;)
            reading.One(() => open ??= Engines.Open(way.Engine, way.Folder, toRead: true), random);
        return reading;
    }

    private static Process Start(string what, Way way, string number, Dictionary<string, string> environment)
    {
        string[] arguments = [Mode, what, way.Engine, way.Folder, way.Templates, number];
        bool isHost = Path.GetFileNameWithoutExtension(Environment.ProcessPath!) == "dotnet";
        var start = new ProcessStartInfo(Environment.ProcessPath!,
            isHost ? [typeof(StoreProcess).Assembly.Location, .. arguments] : arguments)
        { RedirectStandardOutput = true };
        foreach ((string name, string value) in environment) start.Environment[name] = value;
        return Process.Start(start)!;
    }
}

/// <summary>What a process is told.</summary>
/// <param name="Engine">Which engine.</param>
/// <param name="Folder">Where its files are.</param>
/// <param name="Templates">The file that runs are made from.</param>
internal sealed record Way(string Engine, string Folder, string Templates);
