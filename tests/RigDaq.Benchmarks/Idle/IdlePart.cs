using System.Diagnostics;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Benchmarks.Idle;

/// <summary>A published daemon on a rig that only measures, 80 samples/s, with its broker and its pages, and nobody who looks.</summary>
internal static class IdlePart
{
    /// <summary>The published program, made by tools/bench.sh.</summary>
    private const string PublishedVariable = "RIGDAQ_PUBLISHED";
    private const double SampleRateHertz = 80;
    private const int StartsWatched = 5;
    private static readonly TimeSpan SettleTime = TimeSpan.FromSeconds(8);
    private static readonly TimeSpan Watched = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan ReadyMax = TimeSpan.FromSeconds(60);

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        if (Environment.GetEnvironmentVariable(PublishedVariable) is not { Length: > 0 } program)
        {
            Bench.Say($"  left out: {PublishedVariable} names no published program.");
            yield break;
        }

        VirtualRig rig = NewRig(), rivalsRig = NewRig();
        string configuration = Path.Combine(bench.Scratch, "idle.json");
        File.WriteAllText(configuration,
            $$"""
            { "name": "idle", "data": "{{bench.Folder("idle")}}", "http": { "port": 0 }, "mqtt": { "port": 0 },
              "serial": { "path": "{{rig.OpenPty()}}" } }
            """);
        double[] ready = [.. Enumerable.Range(0, StartsWatched).Select(_ => Ready(program, configuration)).Order()];
        (double processor, double megabytes) ours = Watch("Dashboard:", program, "serve", "--config", configuration);
        (double processor, double megabytes) python = Watch("ready", Rivals.Python, bench.Tool("idle_reader.py"), rivalsRig.OpenPty(),
            Convert.ToHexString(StreamFrame()), Path.Combine(bench.Scratch, "idle.csv"));
        rig.DisposeAsync().AsTask().Wait();
        rivalsRig.DisposeAsync().AsTask().Wait();
        yield return new Measured("idle.processor", "idle at 80 samples/s: processor", ours.processor, "% of a core")
        {
            Aim = 1,
            Rivals = python.processor > 0 ? [new Rival("a small Python reader", python.processor)] : [],
            Limit = "wake-ups: blocks, keep-alives, states told, timers",
        };
        yield return new Measured("idle.memory", "idle: resident memory", ours.megabytes, "MB")
        {
            Aim = 100,
            Rivals = python.megabytes > 0 ? [new Rival("a small Python reader", python.megabytes)] : [],
            Limit = "the runtime, the web server and the broker",
        };
        yield return new Measured("idle.ready", "from its start to its pages being there, median of 5", ready[StartsWatched / 2], "s")
        { Aim = 1, Limit = "loading and joining the web host and the archive" };
    }

    private static VirtualRig NewRig()
        => new(new VirtualRigOptions { SampleRateHertz = SampleRateHertz, HasSelectableRate = false }, TimeProvider.System);

    private static double Ready(string program, string configuration)
    {
        using Process process = Start(program, "serve", "--config", configuration);
        double seconds = WhenItSays(process, "Dashboard:");
        End(process);
        return seconds;
    }

    private static (double Processor, double Megabytes) Watch(string sign, string program, params string[] arguments)
    {
        using Process process = Start(program, arguments);
        WhenItSays(process, sign);
        // Another process, in wall time: until its start is behind it, and then for as long as it is watched.
        Thread.Sleep(SettleTime);
        process.Refresh();
        if (process.HasExited) return (0, 0);
        TimeSpan before = process.TotalProcessorTime;
        long began = Stopwatch.GetTimestamp();
        Thread.Sleep(Watched);
        process.Refresh();
        double share = (process.TotalProcessorTime - before) / Stopwatch.GetElapsedTime(began);
        double megabytes = process.WorkingSet64 / 1e6;
        End(process);
        return (100 * share, megabytes);
    }

    private static Process Start(string program, params string[] arguments)
        => Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true })!;

    /// <summary>How long until a line of its errors holds a sign.</summary>
    private static double WhenItSays(Process process, string sign)
    {
        long began = Stopwatch.GetTimestamp();
        using var said = new ManualResetEventSlim();
        process.ErrorDataReceived += (_, line) =>
        {
            if (line.Data?.Contains(sign, StringComparison.Ordinal) == true) said.Set();
        };
        process.BeginErrorReadLine();
        if (!said.Wait(ReadyMax)) Bench.Say($"  it never said “{sign}”.");
        return Stopwatch.GetElapsedTime(began).TotalSeconds;
    }

    private static void End(Process process)
    {
        using Process kill = Process.Start("kill", ["-TERM", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        if (!process.WaitForExit(TimeSpan.FromSeconds(15))) process.Kill(entireProcessTree: true);
    }

    private static byte[] StreamFrame()
    {
        byte[] payload = new byte[FrameLimits.PayloadBytesMax], frame = new byte[FrameLimits.WireBytesMax];
        int length = new StreamCommand(1, On: true, 0).Write(payload);
        return frame[..FrameEncoder.Encode(payload.AsSpan(0, length), frame)];
    }
}
