using System.Net;
using MQTTnet.Protocol;
using MQTTnet.Server;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Broker;

/// <summary>The broker in this process, as the rest of the program sees it.</summary>
public sealed class EmbeddedBroker
{
    /// <summary>How often it is looked whether there are too many sessions, and how long their queues are.</summary>
    private static readonly TimeSpan Sweep = TimeSpan.FromSeconds(1);

    private readonly TimeProvider _time;
    private ListenOptions? _listen;
    private ITimer? _sweep;
    private int _sweeping;
    private volatile bool _isTight;

    internal EmbeddedBroker(EmbeddedBrokerOptions options, string topicRoot, TimeProvider time)
    {
        _time = time;
        Access = new BrokerAccess(options, topicRoot, time);
        Sessions = new SessionBook(options, time);
        Guard = new FirstPacketGuard(options.FirstPacketBytesMax, options.ClientsMax + Delivery.RigPublisher.Connections,
            Access.OwnPassword, time);
    }

    /// <summary>Where it listens; null before the host has started. With port 0 in the options the real one stands here.</summary>
    public IPEndPoint? EndPoint => _listen?.IPEndPoint;

    /// <summary>How many connections were ended because their first packet was too great, too late or no CONNECT, or a later one too
    /// great.</summary>
    public long RefusedConnections => Guard.Refused;

    /// <summary>Memory is tight, or is no longer: while it is, few sessions of who is away are kept, those first that were connected for
    /// longest.</summary>
    public void BeTight(bool isTight) => _isTight = isTight;

    internal BrokerAccess Access { get; }
    internal FirstPacketGuard Guard { get; }
    internal SessionBook Sessions { get; }

    /// <summary>Somebody subscribed to something: what found nobody may find somebody now.</summary>
    internal event Action? Subscribed;

    internal void ListensOn(ListenOptions listen) => _listen = listen;

    internal void Attach(MqttServer server)
    {
        // It starts when the host says that it has, as its clients do: who comes first must not be dropped.
        server.StartedAsync += _ =>
        {
            Guard.Open();
            _sweep = _time.CreateTimer(_ => _ = SweepAsync(server), null, Sweep, Sweep);
            return Task.CompletedTask;
        };
        server.StoppedAsync += _ => _sweep?.DisposeAsync().AsTask() ?? Task.CompletedTask;
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
            if (login.ReasonCode == MqttConnectReasonCode.ClientIdentifierNotValid
                && clientId.StartsWith(BrokerAccess.OwnClientPrefix, StringComparison.Ordinal))
                login.ReasonString = PublishingText.AnotherRigsBroker;
            if (login.ReasonCode == MqttConnectReasonCode.Success && login.UserName != BrokerAccess.OwnUser
                && !Sessions.HasRoomFor(clientId))
                login.ReasonCode = MqttConnectReasonCode.QuotaExceeded;
            return Task.CompletedTask;
        };
        server.InterceptingPublishAsync += publish =>
        {
            var message = publish.ApplicationMessage;
            MqttPubAckReasonCode? refusal = Access.Refusal(message.Topic, publish.UserName, message.Retain, message.Payload.Length);
            if (refusal is not { } reason) return Task.CompletedTask;
            publish.ProcessPublish = false;
            publish.Response.ReasonCode = reason;
            publish.Response.ReasonString = reason != MqttPubAckReasonCode.QuotaExceeded ? PublishingText.OnlyOwnProgramPublishes
                : message.Retain ? PublishingText.RetainedTopicsFull : PublishingText.TooMuchAtOnce;
            return Task.CompletedTask;
        };
        server.ClientConnectedAsync += client =>
        {
            Sessions.Came(client.ClientId);
            // Whoever comes back to a session does not subscribe again: the state was not queued for it, so it is sent once more.
            if (!client.ClientId.StartsWith(BrokerAccess.OwnClientPrefix, StringComparison.Ordinal)) Subscribed?.Invoke();
            return Task.CompletedTask;
        };
        server.ClientDisconnectedAsync += client =>
        {
            Sessions.Went(client.ClientId);
            return Task.CompletedTask;
        };
        server.InterceptingClientEnqueueAsync += enqueue =>
        {
            string topic = enqueue.ApplicationMessage.Topic;
            bool isOurs = enqueue.SenderClientId.StartsWith(BrokerAccess.OwnClientPrefix, StringComparison.Ordinal);
            bool isPassing = topic.EndsWith(Topics.LiveEnd, StringComparison.Ordinal)
                || topic.EndsWith(Topics.StateEnd, StringComparison.Ordinal);
            enqueue.AcceptEnqueue = Sessions.MayQueue(enqueue.ReceiverClientId, isOurs, isPassing, _isTight);
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

    private async Task SweepAsync(MqttServer server)
    {
        if (Interlocked.Exchange(ref _sweeping, 1) != 0) return;
        try
        {
            IList<MqttSessionStatus> sessions = await server.GetSessionsAsync().ConfigureAwait(false);
            foreach (MqttSessionStatus session in sessions) Sessions.Noted(session.Id, () => session.PendingApplicationMessagesCount);
            IList<MqttClientStatus> clients = await server.GetClientsAsync().ConfigureAwait(false);
            HashSet<string> tooMany =
                [.. Sessions.ToEnd([.. sessions.Select(session => session.Id)], [.. clients.Select(client => client.Id)], _isTight)];
            foreach (MqttSessionStatus session in sessions)
            {
                if (tooMany.Contains(session.Id)) await session.DeleteAsync().ConfigureAwait(false);
            }
        }
        catch (Exception e) when (e is InvalidOperationException or ObjectDisposedException)
        {
            // The server is ending.
        }
        finally
        {
            Volatile.Write(ref _sweeping, 0);
        }
    }
}
