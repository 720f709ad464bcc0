using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>Tries a broker elsewhere as the running daemon would: TLS, login, the client's id, the right to publish. Nothing is taken
/// over.</summary>
public static class BrokerTrial
{
    /// <summary>What is wrong and what to do; null where all is in order.</summary>
    /// <param name="options">With an external broker.</param>
    /// <param name="time">For time-outs.</param>
    /// <param name="cancellation">Gives up.</param>
    public static async Task<string?> ProblemAsync(PublishingOptions options, TimeProvider time, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(options);
        var topics = new Topics(options.RigName, options.TopicRoot);
        var address = new BrokerAddress(options, topics, null);
        try
        {
            if (await new Namesake(address, topics, "", time).IsOnlineAsync(cancellation).ConfigureAwait(false))
                return PublishingText.NamesakeOrItself(address.Words, options.RigName);
            using IMqttClient client = new MqttClientFactory().CreateMqttClient();
            await BrokerSession.ConnectAsync(client, address.ClientOptions("results", withWill: false), time, cancellation)
                .ConfigureAwait(false);
            MqttApplicationMessage trial = new MqttApplicationMessageBuilder().WithTopic(topics.Check).WithPayload("{}")
                .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build();
            MqttClientPublishResult answer = await client.PublishAsync(trial, CancellationToken.None)
                .WaitAsync(BrokerAddress.AnswerTime, time, cancellation).ConfigureAwait(false);
            await client.DisconnectAsync(new MqttClientDisconnectOptions(), CancellationToken.None)
                .WaitAsync(BrokerAddress.AnswerTime, time, cancellation).ConfigureAwait(false);
            return answer.IsSuccess || answer.ReasonCode == MqttClientPublishReasonCode.NoMatchingSubscribers
                ? null : PublishingText.MayNotPublish(topics.Check, $"{answer.ReasonCode} {answer.ReasonString}".TrimEnd());
        }
        catch (Exception e) when (e is IOException or MqttCommunicationException or MqttClientDisconnectedException or TimeoutException
            or InvalidOperationException)
        {
            return PublishingText.TrialFailed(address.Words, e.Message, address.Remedy);
        }
    }
}
