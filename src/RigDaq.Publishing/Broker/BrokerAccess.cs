using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using MQTTnet.Protocol;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Broker;

/// <summary>Who may connect to the embedded broker and what may be published there. Clients read; only the publisher in this process writes
/// below the root of the rig's topics.</summary>
internal sealed class BrokerAccess(EmbeddedBrokerOptions options, string topicRoot, TimeProvider time)
{
    /// <summary>The user of the publisher in this process; its password is drawn anew at every start.</summary>
    internal const string OwnUser = "rigdaq-publisher";

    /// <summary>Client ids that begin so belong to the publisher.</summary>
    internal const string OwnClientPrefix = "rigdaq-publisher-";

    private readonly ConcurrentDictionary<string, string> _userOfClient = new(StringComparer.Ordinal);
    private readonly Lock _lock = new();
    private readonly Dictionary<string, long> _retained = new(StringComparer.Ordinal);
    private readonly ByteAllowance _foreign = new(EmbeddedBrokerOptions.ForeignBytesMax, EmbeddedBrokerOptions.ForeignBytesPerSecond, time);
    private long _retainedBytes;

    /// <summary>The publisher's password.</summary>
    internal string OwnPassword { get; } = Convert.ToHexString(RandomNumberGenerator.GetBytes(32));

    /// <summary>Judges a login.</summary>
    internal MqttConnectReasonCode Login(string clientId, string? user, string? password)
    {
        bool own = user == OwnUser;
        bool known = own ? SameSecret(password, OwnPassword) : options.Users.Count == 0 || KnowsUser(user, password);
        if (!known) return MqttConnectReasonCode.BadUserNameOrPassword;
        if (own != clientId.StartsWith(OwnClientPrefix, StringComparison.Ordinal)) return MqttConnectReasonCode.ClientIdentifierNotValid;

        // Another user with the same client id would take over its session and its subscriptions.
        string name = options.Users.Count == 0 && !own ? "" : user ?? "";
        string owner = _userOfClient.GetOrAdd(clientId, name);
        return owner == name ? MqttConnectReasonCode.Success : MqttConnectReasonCode.ClientIdentifierNotValid;
    }

    /// <summary>A session ended for good: its client id is free again.</summary>
    internal void Forget(string clientId) => _userOfClient.TryRemove(clientId, out _);

    /// <summary>Judges a message; null lets it pass.</summary>
    internal MqttPubAckReasonCode? Refusal(string topic, string? user, bool retain, long bytes)
    {
        if (user == OwnUser) return null;
        if (Topics.IsBelow(topicRoot, topic)) return MqttPubAckReasonCode.NotAuthorized;
        if (retain && !MayRetain(topic, bytes)) return MqttPubAckReasonCode.QuotaExceeded;
        // A flood from one client would wait in the memory of this process for the slowest reader.
        return _foreign.TryTake(bytes + topic.Length) ? null : MqttPubAckReasonCode.QuotaExceeded;
    }

    private bool MayRetain(string topic, long bytes)
    {
        lock (_lock)
        {
            long before = _retained.GetValueOrDefault(topic);
            if (bytes == 0)
            {
                _retained.Remove(topic);
            }
            else
            {
                bool isNew = !_retained.ContainsKey(topic);
                if ((isNew && _retained.Count >= options.RetainedTopicsMax)
                    || _retainedBytes - before + bytes > EmbeddedBrokerOptions.RetainedBytesMax) return false;
                _retained[topic] = bytes;
            }

            _retainedBytes += bytes - before;
            return true;
        }
    }

    private bool KnowsUser(string? user, string? password)
    {
        bool known = false;
        foreach (BrokerUser each in options.Users)
        {
            // No early way out: the time taken tells nothing about which names exist.
            known |= SameSecret(user, each.User) & SameSecret(password, each.Password);
        }

        return known;
    }

    private static bool SameSecret(string? given, string expected) => CryptographicOperations.FixedTimeEquals(
        SHA256.HashData(Encoding.UTF8.GetBytes(given ?? "")), SHA256.HashData(Encoding.UTF8.GetBytes(expected)));
}
