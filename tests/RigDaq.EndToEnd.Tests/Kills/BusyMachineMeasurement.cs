using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using RigDaq.EndToEnd.Tests.Devices;

namespace RigDaq.EndToEnd.Tests.Kills;

/// <summary>
/// Holds that a person must clear while every core is kept busy by loops of usual priority in sessions of their own: one
/// <c>serve</c> that may raise itself, one beside it that may
/// not (user nobody). Asked for by RIGDAQ_BUSY_MINUTES (tools/load/busy_serve.sh), as root. The virtual rigs run in this
/// process, which is raised above
/// all of it: a device has a processor of its own.
/// </summary>
public sealed class BusyMachineMeasurement(ITestOutputHelper output)
{
    private static readonly double Minutes = double.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_BUSY_MINUTES"),
        CultureInfo.InvariantCulture, out double minutes) ? minutes : 0;
    private static readonly int Loops = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_BUSY_LOOPS"), out int loops) ? loops
        : Environment.ProcessorCount;

    private static readonly TimeSpan LookMax = TimeSpan.FromSeconds(3);

    [Fact]
    public async Task Counts_the_holds_of_ten_busy_minutes()
    {
        Assert.SkipWhen(Minutes <= 0, "Made on request: RIGDAQ_BUSY_MINUTES.");
        await using KilledServe raised = await KilledServe.PrepareAsync(1, timeScale: 4, specimens: 400);
        await using KilledServe refused = await KilledServe.PrepareAsync(2, timeScale: 4, specimens: 400);
        Run("chown", "-R", "nobody", refused.Folder);
        Run("chmod", "666", refused.Terminal!);
        Run("chrt", "-a", "-r", "-p", "20", Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
        await using RunningServe first = await raised.StartAsync("chrt", "-o", "0", "setsid");
        await using RunningServe second = await refused.StartAsync("chrt", "-o", "0", "setsid", "setpriv", "--reuid=nobody",
            "--clear-groups", "env", "HOME=/tmp");
        await raised.BeginAgainAsync(first);
        await refused.BeginAgainAsync(second);
        Process[] loops =
            [.. Enumerable.Range(0, Loops).Select(_ => Process.Start("chrt", ["-o", "0", "setsid", "sh", "-c", "while :; do :; done"]))];
        try
        {
            var end = new CancellationTokenSource(TimeSpan.FromMinutes(Minutes));
            int before = raised.Breaks, beforeRefused = refused.Breaks;
            (List<string> Holds, double WorstStop)[] seen = await Task.WhenAll(WatchAsync(raised, first, end.Token),
                WatchAsync(refused, second, end.Token));
            string load = (await File.ReadAllTextAsync("/proc/loadavg", TestContext.Current.CancellationToken)).Split(' ')[1];
            output.WriteLine($"{Minutes} min, {Environment.ProcessorCount} cores, {Loops} loops, load over five minutes {load}");
            output.WriteLine($"raised: {raised.Breaks - before} pulls, {seen[0].Holds.Count} holds {JsonSerializer.Serialize(seen[0].Holds)}, stop answered within {seen[0].WorstStop:0} ms");
            output.WriteLine($"refused: {refused.Breaks - beforeRefused} pulls, {seen[1].Holds.Count} holds {JsonSerializer.Serialize(seen[1].Holds)}, stop answered within {seen[1].WorstStop:0} ms");
        }
        finally
        {
            foreach (Process loop in loops)
            {
                loop.Kill();
                loop.Dispose();
            }
        }
    }

    private static async Task<(List<string> Holds, double WorstStop)> WatchAsync(KilledServe rig, RunningServe serve, CancellationToken end)
    {
        var holds = new List<string>();
        while (!end.IsCancellationRequested)
        {
            rig.FillUp();
            // Looked at anew every few seconds: states come twenty times a second.
            long began = Stopwatch.GetTimestamp();
            JsonElement seen = await serve.WhenAsync(s => IsHeld(s) || end.IsCancellationRequested
                || Stopwatch.GetElapsedTime(began) > LookMax, "a state");
            if (end.IsCancellationRequested || !IsHeld(seen)) continue;
            holds.Add(seen.GetProperty("sequence").GetProperty("reason").GetString()!);
            await rig.BeginAgainAsync(serve);
        }

        double worst = 0;
        for (int i = 0; i < 5; i++)
        {
            long asked = Stopwatch.GetTimestamp();
            await serve.TryAsync("stop");
            worst = Math.Max(worst, Stopwatch.GetElapsedTime(asked).TotalMilliseconds);
        }

        return (holds, worst);
    }

    private static bool IsHeld(JsonElement state) =>
        state.GetProperty("sequence") is { ValueKind: JsonValueKind.Object } sequence
            && sequence.GetProperty("stage").GetString() == "held";

    private static void Run(string program, params string[] arguments)
    {
        using Process process = Process.Start(program, arguments);
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}");
    }
}
