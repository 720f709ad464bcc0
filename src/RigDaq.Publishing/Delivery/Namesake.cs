using System.Buffers;
using System.Text.Json;
using MQTTnet;
using MQTTnet.Exceptions;
using RigDaq.Publishing.Messages;

namespace RigDaq.Publishing.Delivery;

/// <summary>
/// Looks whether another rig of this name is online at a broker, before this one takes the name: client ids and topics hang on it, and two
/// that share it would throw each other out for ever. It looks under a name of its own, by the state that is retained there.
/// </summary>
internal sealed class Namesake(BrokerAddress address, Topics topics, string instance, TimeProvider time)
{
    /// <summary>How long a retained state is waited for after subscribing; a broker sends it at once.</summary>
    internal static readonly TimeSpan RetainedMax = TimeSpan.FromMilliseconds(500);

    /// <summary>Whether another one is online.</summary>
    /// <exception cref="IOException">The broker was not reached or refuses the login; the text says which.</exception>
    internal async Task<bool> IsOnlineAsync(CancellationToken cancellation)
    {
        using IMqttClient client = new MqttClientFactory().CreateMqttClient();
        var state = new TaskCompletionSource<byte[]>(TaskCreationOptions.RunContinuationsAsynchronously);
        client.ApplicationMessageReceivedAsync += message =>
        {
            state.TrySetResult(message.ApplicationMessage.Payload.ToArray());
            return Task.CompletedTask;
        };
        await BrokerSession.ConnectAsync(client, address.ClientOptions("check-" + Guid.NewGuid().ToString("N")[..8], withWill: false), time,
            cancellation).ConfigureAwait(false);
        try
        {
            await client.SubscribeAsync(topics.State, cancellationToken: cancellation)
                .WaitAsync(BrokerAddress.AnswerTime, time, cancellation).ConfigureAwait(false);
            byte[] payload = await state.Task.WaitAsync(RetainedMax, time, cancellation).ConfigureAwait(false);
            await client.DisconnectAsync(new MqttClientDisconnectOptions(), CancellationToken.None)
                .WaitAsync(BrokerAddress.AnswerTime, time, cancellation).ConfigureAwait(false);
            return IsAnother(payload);
        }
        catch (Exception e) when (e is MqttCommunicationException or TimeoutException or InvalidOperationException)
        {
            // Nothing is retained, or who may publish here may not read: then nobody can tell, and the name is taken.
            return false;
        }
    }

    private bool IsAnother(byte[] payload)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(payload);
            JsonElement root = document.RootElement;
            return root.ValueKind == JsonValueKind.Object && root.TryGetProperty("online", out JsonElement online)
                && online.ValueKind == JsonValueKind.True
                && (!root.TryGetProperty("instance", out JsonElement other) || other.ValueKind != JsonValueKind.String
                    || other.GetString() != instance);
        }
        catch (JsonException)
        {
            return false;
        }
    }
}
