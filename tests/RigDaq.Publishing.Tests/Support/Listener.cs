using System.Buffers;
using System.Collections.Concurrent;
using System.Text;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>A subscriber like any consumer's.</summary>
internal sealed class Listener : IAsyncDisposable
{
    private Listener(IMqttClient client) => Client = client;

    public IMqttClient Client { get; }

    public ConcurrentQueue<(string Topic, string Payload, bool Retained)> Received { get; } = new();

    public static async Task<Listener> ConnectAsync(
        int port, string filter = "#", string clientId = "", string? user = null, string? password = null,
        Action<MqttClientOptionsBuilder>? also = null)
    {
        IMqttClient client = new MqttClientFactory().CreateMqttClient();
        var listener = new Listener(client);
        client.ApplicationMessageReceivedAsync += e =>
        {
            listener.Received.Enqueue((e.ApplicationMessage.Topic,
                Encoding.UTF8.GetString(e.ApplicationMessage.Payload.ToArray()), e.ApplicationMessage.Retain));
            return Task.CompletedTask;
        };
        MqttClientConnectResult result = await client.ConnectAsync(
            Options(port, clientId, user, password, also), TestContext.Current.CancellationToken);
        Assert.Equal(MqttClientConnectResultCode.Success, result.ResultCode);
        if (filter.Length > 0) await client.SubscribeAsync(new MqttClientSubscribeOptionsBuilder()
            .WithTopicFilter(filter, MqttQualityOfServiceLevel.AtLeastOnce).Build(), TestContext.Current.CancellationToken);
        return listener;
    }

    public static MqttClientOptions Options(
        int port, string clientId = "", string? user = null, string? password = null, Action<MqttClientOptionsBuilder>? also = null)
    {
        MqttClientOptionsBuilder builder = new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(clientId.Length > 0 ? clientId : "listener-" + Guid.NewGuid().ToString("N"));
        if (user is not null) builder.WithCredentials(user, password ?? "");
        also?.Invoke(builder);
        return builder.Build();
    }

    public IReadOnlyList<string> Payloads(string topicEnd) =>
        [.. Received.Where(m => m.Topic.EndsWith(topicEnd, StringComparison.Ordinal)).Select(m => m.Payload)];

    public ValueTask DisposeAsync()
    {
        Client.Dispose();
        return ValueTask.CompletedTask;
    }
}
