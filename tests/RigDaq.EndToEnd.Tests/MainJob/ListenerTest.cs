using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>What a client of the embedded broker sees while a study is broken.</summary>
public sealed class ListenerTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(90);

    [Fact]
    public async Task A_listener_hears_state_live_force_and_one_result_a_run()
    {
        Assert.SkipUnless(File.Exists(Listener.Program), "Needs Debian's mosquitto-clients.");
        using var folder = new TemporaryFolder();
        await using RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "3", "--time-scale", "10");
        await using Listener listener = Listener.Start(demo.MqttPort, "rigdaq/#");
        int results = 0;
        IReadOnlyList<HeardMessage> heard = await listener.UntilAsync(m => IsRun(m) && ++results == 3, Bound);
        HeardMessage[] runs = [.. heard.Where(IsRun)];
        Assert.Equal(3, runs.Select(m => m.Payload.GetProperty("runId").GetString()).Distinct().Count());
        Assert.All(runs, m => Assert.Equal("broken", m.Payload.GetProperty("ending").GetString()));
        Assert.All(runs, m => Assert.InRange(m.Payload.GetProperty("strengthMegapascals").GetDouble(), 10, 60));
        Assert.Contains(heard, m => m.Topic == "rigdaq/kestrel-lane/live");
        string?[] states =
            [.. heard.Where(m => m.Topic == "rigdaq/kestrel-lane/state").Select(m => m.Payload.GetProperty("state").GetString())];
        Assert.Contains("pulling", states);
        Assert.Contains("returning", states);
    }

    private static bool IsRun(HeardMessage message) => message.Topic.StartsWith("rigdaq/kestrel-lane/runs/", StringComparison.Ordinal);
}
