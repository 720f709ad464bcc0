using MQTTnet;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Broker;

public sealed class BrokerAccessTest
{
    [Theory]
    [InlineData("rigdaq/bench-1/state")]
    [InlineData("rigdaq/bench-1/command/jog")]
    [InlineData("rigdaq/another-rig/runs/x")]
    [InlineData("rigdaq")]
    public async Task A_client_cannot_publish_into_the_rigs_topics(string topic)
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port, "rigdaq/+/never");
        MqttClientPublishResult result = await listener.Client.PublishAsync(
            new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload("{}").WithRetainFlag()
                .WithQualityOfServiceLevel(MQTTnet.Protocol.MqttQualityOfServiceLevel.AtLeastOnce).Build(),
            TestContext.Current.CancellationToken);

        Assert.Equal(MqttClientPublishReasonCode.NotAuthorized, result.ReasonCode);
        await using Listener later = await Listener.ConnectAsync(host.Port, topic);
        await PassesAsync(later);
        Assert.DoesNotContain(later.Received, m => m.Payload == "{}");
    }

    [Fact]
    public async Task A_clients_last_will_cannot_reach_the_rigs_topics()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port);
        Listener dying = await Listener.ConnectAsync(host.Port, "nothing", also: o => o
            .WithWillTopic("rigdaq/bench-1/state").WithWillPayload("forged").WithWillRetain());
        await dying.DisposeAsync(); // Without a goodbye.

        await PassesAsync(listener);
        Assert.DoesNotContain(listener.Received, m => m.Payload == "forged");
    }

    [Fact]
    public async Task A_client_may_publish_elsewhere()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await using Listener listener = await Listener.ConnectAsync(host.Port, "workshop/#");
        await listener.Client.PublishStringAsync("workshop/humidity", "41", cancellationToken: TestContext.Current.CancellationToken);
        await Eventually.TrueAsync(() => listener.Received.Any(m => m.Payload == "41"), "the message arrives");
    }

    [Fact]
    public async Task Retained_topics_of_clients_are_bounded()
    {
        await using BrokerHost host = await BrokerHost.StartAsync(o => o.Broker.RetainedTopicsMax = 1);
        await using Listener listener = await Listener.ConnectAsync(host.Port, "workshop/#");
        Assert.True((await RetainAsync(listener, "workshop/a")).IsSuccess);
        Assert.True((await RetainAsync(listener, "workshop/a")).IsSuccess);
        Assert.Equal(MqttClientPublishReasonCode.QuotaExceeded, (await RetainAsync(listener, "workshop/b")).ReasonCode);
    }

    [Theory]
    [InlineData(null, null)]
    [InlineData("reader", "wrong")]
    [InlineData("stranger", "maple")]
    [InlineData("rigdaq-publisher", "maple")]
    public async Task A_wrong_login_is_refused(string? user, string? password)
    {
        await using BrokerHost host = await BrokerHost.StartAsync(WithUsers);
        Assert.Equal(MqttClientConnectResultCode.BadUserNameOrPassword, await LoginAsync(host, "reader-1", user, password));
    }

    [Fact]
    public async Task A_right_login_is_taken_and_its_client_id_is_nobody_elses()
    {
        await using BrokerHost host = await BrokerHost.StartAsync(WithUsers);
        await host.ConnectedAsync();
        await using Listener reader = await Listener.ConnectAsync(host.Port, "#", "shared-id", "reader", "maple");
        Assert.Equal(MqttClientConnectResultCode.ClientIdentifierNotValid, await LoginAsync(host, "shared-id", "other", "larch"));
        Assert.True(reader.Client.IsConnected);
    }

    [Fact]
    public async Task The_publishers_client_ids_are_not_for_others()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        Assert.Equal(MqttClientConnectResultCode.ClientIdentifierNotValid,
            await LoginAsync(host, "rigdaq-publisher-bench-1-results", null, null));
        Assert.True(host.Publisher.Status.ResultsUp);
    }

    private static void WithUsers(PublishingOptions options)
    {
        options.Broker.Users.Add(new BrokerUser { User = "reader", Password = "maple" });
        options.Broker.Users.Add(new BrokerUser { User = "other", Password = "larch" });
    }

    private static async Task<MqttClientConnectResultCode> LoginAsync(BrokerHost host, string id, string? user, string? password)
    {
        using IMqttClient client = new MqttClientFactory().CreateMqttClient();
        MqttClientConnectResult result = await client.ConnectAsync(
            Listener.Options(host.Port, id, user, password), TestContext.Current.CancellationToken);
        return result.ResultCode;
    }

    private static Task<MqttClientPublishResult> RetainAsync(Listener listener, string topic) => listener.Client.PublishAsync(
        new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload("x").WithRetainFlag()
            .WithQualityOfServiceLevel(MQTTnet.Protocol.MqttQualityOfServiceLevel.AtLeastOnce).Build(),
        TestContext.Current.CancellationToken);

    /// <summary>What was sent before a message of our own would have come before it, too.</summary>
    private static async Task PassesAsync(Listener listener)
    {
        string mark = Guid.NewGuid().ToString();
        await listener.Client.SubscribeAsync("mark/#", cancellationToken: TestContext.Current.CancellationToken);
        await listener.Client.PublishStringAsync("mark/" + mark, mark, cancellationToken: TestContext.Current.CancellationToken);
        await Eventually.TrueAsync(() => listener.Received.Any(m => m.Payload == mark), "the mark arrives");
    }
}
