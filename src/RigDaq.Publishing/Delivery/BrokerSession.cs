using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>One connection to the broker, from its login to its end.</summary>
internal sealed class BrokerSession : IMessageSink, IAsyncDisposable
{
    private readonly IMqttClient _client;
    private readonly TimeProvider _time;
    private readonly CancellationTokenSource _ended = new();

    private BrokerSession(IMqttClient client, TimeProvider time)
    {
        _client = client;
        _time = time;
        Ended = _ended.Token;
    }

    /// <summary>Signalled when the connection is gone.</summary>
    internal CancellationToken Ended { get; }

    /// <summary>Whether the broker gave this connection's place to another client of the same id.</summary>
    internal bool WasTakenOver { get; private set; }

    /// <summary>Connects.</summary>
    /// <exception cref="IOException">The broker was not reached or would not have us; the text says which.</exception>
    internal static async Task<BrokerSession> OpenAsync(MqttClientOptions options, TimeProvider time, CancellationToken cancellation)
    {
        IMqttClient client = new MqttClientFactory().CreateMqttClient();
        var session = new BrokerSession(client, time);
        client.DisconnectedAsync += ended =>
        {
            session.WasTakenOver = ended.Reason == MqttClientDisconnectReason.SessionTakenOver;
            return session._ended.CancelAsync();
        };
        try
        {
            await ConnectAsync(client, options, time, cancellation).ConfigureAwait(false);
            return session;
        }
        catch
        {
            await session.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Logs a client in.</summary>
    /// <exception cref="IOException">The broker was not reached or would not have us; the text says which.</exception>
    internal static async Task ConnectAsync(IMqttClient client, MqttClientOptions options, TimeProvider time,
        CancellationToken cancellation)
    {
        try
        {
            MqttClientConnectResult result = await client.ConnectAsync(options, cancellation)
                .WaitAsync(BrokerAddress.AnswerTime, time, cancellation).ConfigureAwait(false);
            // A refused login does not throw.
            if (result.ResultCode == MqttClientConnectResultCode.Success) return;
            throw new IOException(PublishingText.BrokerRefusedLogin(result.ResultCode switch
            {
                // Brokers differ in which of the two they say to a wrong password.
                MqttClientConnectResultCode.BadUserNameOrPassword or MqttClientConnectResultCode.NotAuthorized =>
                    PublishingText.RefusedUser,
                _ => $"{result.ResultCode} {result.ReasonString}",
            }));
        }
        catch (Exception e) when (e is MqttCommunicationException or TimeoutException)
        {
            throw new IOException(PublishingText.BrokerNotReached(e.GetBaseException().Message), e);
        }
    }

    /// <inheritdoc/>
    public async Task<PublishAnswer> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellation)
    {
        MqttApplicationMessage message =
            new MqttApplicationMessageBuilder().WithTopic(topic).WithPayloadSegment(payload).WithRetainFlag(retain)
            .WithContentType("application/json").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build();
        MqttClientPublishResult result = await SendAsync(message, cancellation).ConfigureAwait(false);
        return result.ReasonCode switch
        {
            MqttClientPublishReasonCode.Success => new(PublishOutcome.Taken),
            MqttClientPublishReasonCode.NoMatchingSubscribers => new(PublishOutcome.Unclaimed),
            _ => new(PublishOutcome.Refused, $"{result.ReasonCode} {result.ReasonString}".TrimEnd()),
        };
    }

    /// <summary>Hands a retained message to the socket; nobody acknowledges it, and no broker queues it for who is away.</summary>
    /// <exception cref="IOException">The link failed.</exception>
    internal async Task SendRetainedAsync(string topic, byte[] payload, CancellationToken cancellation)
    {
        MqttApplicationMessage message = new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).WithRetainFlag()
            .WithContentType("application/json").Build();
        await SendAsync(message, cancellation).ConfigureAwait(false);
    }

    /// <summary>Hands a message to the socket; nobody acknowledges it.</summary>
    /// <exception cref="IOException">The link failed.</exception>
    internal async Task SendLiveAsync(string topic, byte[] payload, CancellationToken cancellation)
    {
        MqttApplicationMessage message = new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).Build();
        await SendAsync(message, cancellation).ConfigureAwait(false);
    }

    private async Task<MqttClientPublishResult> SendAsync(MqttApplicationMessage message, CancellationToken cancellation)
    {
        try
        {
            // A broker that froze lets a publish hang whatever the client's own timeout says: the wait is bounded here. The token ends the
            // waiting only: a publish that is called off in mid-packet spoils the connection for the goodbye that follows.
            return await _client.PublishAsync(message, CancellationToken.None)
                .WaitAsync(BrokerAddress.AnswerTime, _time, cancellation).ConfigureAwait(false);
        }
        catch (Exception e) when (e is MqttCommunicationException or TimeoutException or ObjectDisposedException
            or MqttClientDisconnectedException or InvalidOperationException)
        {
            throw new IOException(PublishingText.BrokerDidNotAnswer(e.GetBaseException().Message), e);
        }
    }

    /// <summary>Says goodbye, so that no last will is published.</summary>
    internal async Task CloseAsync()
    {
        try
        {
            await _client.DisconnectAsync(new MqttClientDisconnectOptions(), CancellationToken.None)
                .WaitAsync(BrokerAddress.AnswerTime, _time).ConfigureAwait(false);
        }
        catch (Exception e) when (e is MqttCommunicationException or TimeoutException or InvalidOperationException)
        {
            // It was going away in any case.
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        // The token source is left to the collector: a late "disconnected" may still cancel it.
        return ValueTask.CompletedTask;
    }
}
