using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>The program is killed in mid-pull: nothing of the pull may be lost but its last 100 ms.</summary>
public sealed class CrashTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(120);

    /// <summary>What the capture may lack, by promise.</summary>
    private const double LostSecondsMax = 0.1;

    [Fact]
    public async Task A_pull_that_was_killed_is_there_as_interrupted_with_its_samples()
    {
        Assert.SkipUnless(File.Exists(Listener.Program), "Needs Debian's mosquitto-clients.");
        using var folder = new TemporaryFolder();
        double lastHeardSeconds = 0;
        string? runId = null;
        await using (RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "3", "--time-scale", "1"))
        {
            await using Listener listener = Listener.Start(demo.MqttPort, "rigdaq/kestrel-lane/#");
            await listener.UntilAsync(
                m =>
                {
                    if (m.Topic.EndsWith("/state", StringComparison.Ordinal) && m.Payload.GetProperty("state").GetString() == "pulling")
                        runId = m.Payload.GetProperty("runId").GetString();
                    if (!m.Topic.EndsWith("/live", StringComparison.Ordinal)) return false;
                    lastHeardSeconds = LastSeconds(m);
                    // Well into the pull: a few hundred newtons.
                    return runId is not null && m.Payload.GetProperty("forceNewtons").EnumerateArray().Last().GetDouble() > 200;
                },
                Bound);
            demo.Process.KillAtOnce();
        }

        // Started again on the same folder, it finds what was left.
        (int status, _, string errors) = await RigdaqProcess.RunAsync(Bound,
            "demo", "--breaks", "1", "--exit", "--time-scale", "20", "--data", folder.Path, "--http", "0", "--mqtt", "0");
        Assert.True(status == 0, errors);
        using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
        Run? run = archive.Runs.Find(runId!);
        Assert.NotNull(run);
        Assert.Equal(PullEnding.Interrupted, run.Ending);
        RawTrace trace = archive.Runs.FindPull(runId!)!.Trace;
        double lastKeptSeconds = trace.Samples[^1].DeviceMicroseconds / 1e6;
        Assert.True(lastKeptSeconds >= lastHeardSeconds - LostSecondsMax,
            $"kept to {lastKeptSeconds:0.000} s, heard to {lastHeardSeconds:0.000} s");
        Assert.Single(archive.Runs.Latest(10), r => r.Ending == PullEnding.Interrupted);
    }

    private static double LastSeconds(HeardMessage message) =>
        // A block of one sample has no interval.
        message.Payload.GetProperty("startSeconds").GetDouble()
        + ((message.Payload.GetProperty("intervalSeconds") is { ValueKind: System.Text.Json.JsonValueKind.Number } interval
            ? interval.GetDouble() : 0)
            * (message.Payload.GetProperty("forceNewtons").GetArrayLength() - 1));
}
