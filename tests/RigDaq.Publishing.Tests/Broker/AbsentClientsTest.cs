using MQTTnet;
using MQTTnet.Protocol;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Broker;

/// <summary>What the broker keeps in memory for others is bounded, and none of it pushes a result out.</summary>
public sealed class AbsentClientsTest
{
    [Fact]
    public async Task Whoever_comes_back_finds_the_runs_and_the_state_of_now_and_no_live_force_of_before()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        host.Publisher.State(Samples.State("ready"));
        await (await PersistentAsync(host, "logger")).Client.DisconnectAsync(cancellationToken: TestContext.Current.CancellationToken);
        for (int i = 0; i < 2_000; i++)
        {
            host.Publisher.Live(i * 0.001, 5, 2);
            if (i % 10 == 0) host.Publisher.State(Samples.State($"state {i}"));
        }

        await using Listener noisy = await Listener.ConnectAsync(host.Port, "nothing");
        for (int i = 0; i < 50; i++) await noisy.Client.PublishStringAsync("workshop/chatter", $"{i}",
            MqttQualityOfServiceLevel.AtLeastOnce, cancellationToken: TestContext.Current.CancellationToken);
        host.Outbox.Add(Samples.Message(1));
        host.Publisher.Wake();
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "the run is taken for the session");

        await using Listener back = await PersistentAsync(host, "logger", subscribe: false);
        await Eventually.TrueAsync(() => back.Received.Any(m => m.Topic.Contains("/runs/", StringComparison.Ordinal)), "the run comes");
        await Eventually.TrueAsync(() => back.Payloads("/state").Any(p => p.Contains("state 1990", StringComparison.Ordinal)),
            "the state of now comes");
        Assert.DoesNotContain(back.Received, m => m.Topic.EndsWith("/live", StringComparison.Ordinal) || m.Topic == "workshop/chatter");
        Assert.DoesNotContain(back.Payloads("/state"), p => p.Contains("state 10\"", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_flood_of_sessions_leaves_a_few_and_keeps_the_one_that_was_there_before()
    {
        await using BrokerHost host = await BrokerHost.StartAsync(o => o.Broker.AbsentSessionsMax = 5);
        await host.ConnectedAsync();
        Listener logger = await PersistentAsync(host, "logger");
        // Longer than any of the flood is connected; the broker reckons in wall time.
        await Task.Delay(200, TestContext.Current.CancellationToken);
        await logger.Client.DisconnectAsync(cancellationToken: TestContext.Current.CancellationToken);
        int refused = 0;
        for (int i = 0; i < 150; i++)
        {
            using IMqttClient client = new MqttClientFactory().CreateMqttClient();
            MqttClientConnectResult result = await client.ConnectAsync(
                Listener.Options(host.Port, $"flood-{i}", also: o => o.WithCleanStart(false).WithSessionExpiryInterval(3_600)),
                    TestContext.Current.CancellationToken);
            if (result.ResultCode != MqttClientConnectResultCode.Success) refused++;
        }

        await Eventually.TrueAsync(() => host.Broker.Sessions.Count <= 5 + RigPublisher.Connections, "the sessions are few again");
        Assert.True(host.Broker.Sessions.Ended > 0 || refused > 0);
        host.Outbox.Add(Samples.Message(1));
        host.Publisher.Wake();
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "the run is taken for the session");
        await using Listener back = await PersistentAsync(host, "logger", subscribe: false);
        await Eventually.TrueAsync(() => back.Received.Any(m => m.Topic.Contains("/runs/", StringComparison.Ordinal)), "the run comes");
    }

    [Fact]
    public async Task Retained_messages_of_clients_are_bounded_in_bytes_and_so_is_what_they_send_at_once()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port, "nothing");
        byte[] great = new byte[100 * 1024];
        int taken = 0;
        MqttClientPublishReasonCode last = MqttClientPublishReasonCode.Success;
        for (int i = 0; i < 200; i++)
        {
            MqttClientPublishResult result = await listener.Client.PublishAsync(
                new MqttApplicationMessageBuilder().WithTopic($"workshop/{i}").WithPayload(great).WithRetainFlag()
                    .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build(),
                TestContext.Current.CancellationToken);
            if (result.IsSuccess) taken++;
            last = result.ReasonCode;
        }

        Assert.Equal(MqttClientPublishReasonCode.QuotaExceeded, last);
        // 200 × 100 KiB were offered.
        Assert.InRange((long)taken * great.Length, 0, EmbeddedBrokerOptions.RetainedBytesMax);
        Assert.True(taken > 50);
        // Small ones go on: sensors are not kept away for long.
        await Eventually.TrueAsync(
            () => listener.Client.PublishStringAsync("workshop/humidity", "41", MqttQualityOfServiceLevel.AtLeastOnce).GetAwaiter()
                .GetResult().IsSuccess, "a small one is taken");
    }

    [Fact]
    public async Task Strangers_who_take_every_place_cannot_keep_the_rig_itself_away()
    {
        await using BrokerHost host = await BrokerHost.StartAsync(o => o.Broker.ClientsMax = 3);
        await host.ConnectedAsync();
        var strangers = new List<Listener>();
        for (int i = 0; i < 3; i++) strangers.Add(await Listener.ConnectAsync(host.Port, "#"));
        using (IMqttClient more = new MqttClientFactory().CreateMqttClient())
        {
            await Assert.ThrowsAnyAsync<Exception>(() => more.ConnectAsync(Listener.Options(host.Port, "one-more"),
                TestContext.Current.CancellationToken));
        }

        // The publisher's connections come anew, by the same way as everybody's, with its places taken meanwhile.
        string password = host.Broker.Access.OwnPassword;
        using IMqttClient own = new MqttClientFactory().CreateMqttClient();
        MqttClientConnectResult result = await own.ConnectAsync(
            Listener.Options(host.Port, BrokerAccess.OwnClientPrefix + "another", BrokerAccess.OwnUser, password),
                TestContext.Current.CancellationToken);
        Assert.Equal(MqttClientConnectResultCode.Success, result.ResultCode);
        foreach (Listener stranger in strangers) await stranger.DisposeAsync();
    }

    [Fact]
    public async Task QueuedMax_results_wait_in_the_broker_for_one_who_is_away_and_more_wait_in_the_outbox_and_none_is_lost()
    {
        const int More = 5;
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        await (await PersistentAsync(host, "logger")).Client.DisconnectAsync(cancellationToken: TestContext.Current.CancellationToken);
        for (int i = 0; i < SessionBook.QueuedMax + More; i++) host.Outbox
            .Add(new OutboxMessage($"runs/{i}", "{}"u8.ToArray(), Retain: false));
        host.Publisher.Wake();
        // What a full queue would have dropped is not called delivered.
        await Eventually.TrueAsync(() => host.Outbox.Count == More && host.Publisher.Status.Unclaimed, "the rest waits", seconds: 60);
        await using Listener back = await PersistentAsync(host, "logger", subscribe: false);
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "all are taken", seconds: 60);
        await Eventually.TrueAsync(() => Runs(back).Count == SessionBook.QueuedMax + More, "all come", seconds: 60);
        Assert.Equal(Enumerable.Range(0, SessionBook.QueuedMax + More).Select(i => $"rigdaq/bench-1/runs/{i}"), Runs(back));
        Assert.True(BrokerHosting.PendingMessagesMax > SessionBook.QueuedMax);
    }

    private static List<string> Runs(Listener listener)
        => [.. listener.Received.Select(m => m.Topic).Where(topic => topic.Contains("/runs/", StringComparison.Ordinal))];

    private static async Task<Listener> PersistentAsync(BrokerHost host, string id, bool subscribe = true) => await Listener.ConnectAsync(
        host.Port, subscribe ? "#" : "", id, also: o => o.WithCleanStart(false).WithSessionExpiryInterval(3_600));
}
