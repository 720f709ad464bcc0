using System.Text.Json;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Delivery;

public sealed class EmbeddedPublishingTest
{
    [Fact]
    public async Task A_run_reaches_a_subscriber_and_leaves_the_outbox()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port, "rigdaq/bench-1/runs/+");
        host.Outbox.Add(Samples.Message(1));
        host.Publisher.Wake();
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "the outbox is empty");
        await Eventually.TrueAsync(() => listener.Received.Count == 1, "the run arrives");
        JsonElement run = JsonDocument.Parse(Assert.Single(listener.Payloads("runs/run-001"))).RootElement;
        Assert.Equal(51.03, run.GetProperty("strengthMegapascals").GetDouble());
    }

    [Fact]
    public async Task A_run_that_nobody_listened_for_waits_and_comes_with_the_first_subscriber()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        for (int i = 0; i < 3; i++) host.Outbox.Add(Samples.Message(i));
        host.Publisher.Wake();
        await Eventually.TrueAsync(() => host.Publisher.Status.Unclaimed, "it is seen that nobody listens");
        Assert.Equal(3, host.Outbox.Count);

        await using Listener listener = await Listener.ConnectAsync(host.Port, "rigdaq/+/runs/#");
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "the outbox is empty", seconds: 4); // Sooner than the regular look.
        await Eventually.TrueAsync(() => listener.Received.Count == 3, "three runs arrived");
        Assert.False(host.Publisher.Status.Unclaimed);
    }

    [Fact]
    public async Task The_state_is_retained_and_the_end_says_offline()
    {
        BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        host.Publisher.State(Samples.State("pulling"));
        await using Listener late = await Listener.ConnectAsync(host.Port, "rigdaq/bench-1/state");
        await Eventually.TrueAsync(() => late.Payloads("/state").Any(p => p.Contains("\"pulling\"", StringComparison.Ordinal)),
            "the state comes");
        var watch = System.Diagnostics.Stopwatch.StartNew();
        await host.DisposeAsync();
        Assert.True(watch.Elapsed < TimeSpan.FromSeconds(10), $"Ending took {watch.Elapsed.TotalSeconds:F1} s with a client connected.");
        Assert.Equal("""{"version":1,"online":false}""", late.Payloads("/state")[^1]);
    }

    [Fact]
    public async Task Live_force_and_alarms_arrive()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port, "rigdaq/bench-1/#");
        for (int i = 0; i < 400; i++) host.Publisher.Live(i * 0.001, i * 0.5, 2);
        host.Publisher.Alarm(Samples.Alarm());
        await Eventually.TrueAsync(() => listener.Payloads("/live").Count >= 9 && listener.Payloads("/alarms").Count == 1, "both arrive");
        JsonElement block = JsonDocument.Parse(listener.Payloads("/live")[0]).RootElement;
        Assert.Equal(40, block.GetProperty("forceNewtons").GetArrayLength());
        Assert.Equal(0.001, block.GetProperty("intervalSeconds").GetDouble());
    }

    [Fact]
    public async Task A_replay_sends_the_runs_again_and_marks_them()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port, "rigdaq/bench-1/runs/+");
        Run[] runs = [Samples.Run("a"), Samples.Run("b")];
        ReplayResult result = await host.Publisher.ReplayAsync(Samples.Study(), runs, TestContext.Current.CancellationToken);
        Assert.Equal(new ReplayResult(2, 2, 0), result);
        await Eventually.TrueAsync(() => listener.Received.Count == 2, "both arrive");
        Assert.All(listener.Received, m => Assert.Contains("\"replayed\":true", m.Payload, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Nothing_is_lost_from_the_outbox_when_the_process_and_its_broker_begin_anew()
    {
        var outbox = new MemoryOutbox();
        for (int i = 0; i < 5; i++) outbox.Add(Samples.Message(i));
        await using (BrokerHost first = await BrokerHost.StartAsync(outbox: outbox)) await first.ConnectedAsync();
        Assert.Equal(5, outbox.Count);
        await using BrokerHost second = await BrokerHost.StartAsync(outbox: outbox);
        await using Listener listener = await Listener.ConnectAsync(second.Port, "rigdaq/bench-1/runs/+");
        await Eventually.TrueAsync(() => outbox.Count == 0 && listener.Received.Count == 5, "all five arrive");
    }

    [Fact]
    public async Task A_port_that_is_taken_is_an_error_at_the_start()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await Assert.ThrowsAsync<IOException>(() => BrokerHost.StartAsync(port: host.Port));
    }
}
