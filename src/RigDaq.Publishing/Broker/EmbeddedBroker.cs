using System.Net;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using MQTTnet.Protocol;
using MQTTnet.Server;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Broker;

/// <summary>The broker in this process, as the rest of the program sees it.</summary>
public sealed class EmbeddedBroker
{
    private ListenOptions? _listen;

    internal EmbeddedBroker(EmbeddedBrokerOptions options, string topicRoot, TimeProvider time)
    {
        Access = new BrokerAccess(options, topicRoot);
        // The two publishers of this process do not count against the clients.
        Guard = new FirstPacketGuard(options.FirstPacketBytesMax, options.ClientsMax + Delivery.RigPublisher.Connections, time);
    }

    /// <summary>Where it listens; null before the host has started. With port 0 in the options the real one stands here.</summary>
    public IPEndPoint? EndPoint => _listen?.IPEndPoint;

    /// <summary>How many connections were ended because their first packet was too great, too late or no CONNECT, or a later one too great.</summary>
    public long RefusedConnections => Guard.Refused;

    internal BrokerAccess Access { get; }

    internal FirstPacketGuard Guard { get; }

    /// <summary>Somebody subscribed to something: what found nobody may find somebody now.</summary>
    internal event Action? Subscribed;

    internal void ListensOn(ListenOptions listen) => _listen = listen;

    internal void Attach(MqttServer server)
    {
        // It starts when the host says that it has, as its clients do: who comes first must not be dropped.
        server.StartedAsync += _ =>
        {
            Guard.Open();
            return Task.CompletedTask;
        };
        server.ValidatingConnectionAsync += login =>
        {
            string clientId = login.ClientId ?? "";
            if (clientId.Length == 0)
            {
                // A version 5 client may leave its id to the broker; for older ones the guard has seen to it.
                clientId = FirstPacketGuard.NewGuestName();
                login.AssignedClientIdentifier = clientId;
            }

            login.ReasonCode = Access.Login(clientId, login.UserName, login.Password);
            return Task.CompletedTask;
        };
        server.InterceptingPublishAsync += publish =>
        {
            var message = publish.ApplicationMessage;
            MqttPubAckReasonCode? refusal = Access.Refusal(message.Topic, publish.UserName, message.Retain, message.Payload.IsEmpty);
            if (refusal is not { } reason) return Task.CompletedTask;
            publish.ProcessPublish = false;
            publish.Response.ReasonCode = reason;
            publish.Response.ReasonString = reason == MqttPubAckReasonCode.QuotaExceeded
                ? PublishingText.RetainedTopicsFull : PublishingText.OnlyOwnProgramPublishes;
            return Task.CompletedTask;
        };
        server.ClientSubscribedTopicAsync += _ =>
        {
            Subscribed?.Invoke();
            return Task.CompletedTask;
        };
        server.SessionDeletedAsync += session =>
        {
            Access.Forget(session.Id);
            return Task.CompletedTask;
        };
    }
}
