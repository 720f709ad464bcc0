using System.Globalization;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>How to reach the broker: the one in this process or one elsewhere.</summary>
internal sealed class BrokerAddress(PublishingOptions options, Topics topics, EmbeddedBroker? embedded)
{
    /// <summary>How long a connection, an answer or a goodbye may take.</summary>
    internal static readonly TimeSpan AnswerTime = TimeSpan.FromSeconds(5);

    /// <summary>A broker that froze is noticed within about one and a half of these.</summary>
    private static readonly TimeSpan KeepAlive = TimeSpan.FromSeconds(5);

    /// <summary>The rig that publishes.</summary>
    internal string RigName => options.RigName;

    /// <summary>Whether the broker is elsewhere.</summary>
    internal bool IsExternal => options.External is not null;

    /// <summary>The address in words, for messages.</summary>
    internal string Words => options.External is { } external
        ? string.Create(CultureInfo.InvariantCulture, $"{external.Host}:{external.EffectivePort}")
        : embedded?.EndPoint?.ToString() ?? PublishingText.BrokerHere;

    /// <summary>What a person should look at when the broker cannot be reached.</summary>
    internal string Remedy => options.External is null ? PublishingText.BrokerHereRemedy : PublishingText.BrokerElsewhereRemedy;

    /// <summary>The options of a connection; read anew for each, because the port is known only after the start.</summary>
    /// <param name="role">Which of this rig's connections.</param>
    /// <param name="withWill">Whether the broker says "offline" for us when this connection dies.</param>
    /// <exception cref="IOException">The embedded broker does not listen yet, or the trust chain cannot be read.</exception>
    internal MqttClientOptions ClientOptions(string role, bool withWill)
    {
        MqttClientOptionsBuilder builder = new MqttClientOptionsBuilder()
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithCleanStart()
            .WithTimeout(AnswerTime)
            .WithKeepAlivePeriod(KeepAlive)
            .WithClientId($"{BrokerAccess.OwnClientPrefix}{options.RigName}-{role}");
        if (withWill)
        {
            builder.WithWillTopic(topics.State).WithWillPayload(OfflineMessage.Payload).WithWillRetain()
                .WithWillQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce);
        }

        if (options.External is { } external) AddExternal(builder, external);
        else AddEmbedded(builder);
        return builder.Build();
    }

    private void AddEmbedded(MqttClientOptionsBuilder builder)
    {
        IPEndPoint? listens = embedded?.EndPoint;
        if (embedded is null || listens is null || listens.Port == 0) throw new IOException(PublishingText.BrokerDoesNotListen);
        IPAddress address = listens.Address.Equals(IPAddress.Any) ? IPAddress.Loopback
            : listens.Address.Equals(IPAddress.IPv6Any) ? IPAddress.IPv6Loopback : listens.Address;
        builder.WithTcpServer(address.ToString(), listens.Port).WithCredentials(BrokerAccess.OwnUser, embedded.Access.OwnPassword);
    }

    private static void AddExternal(MqttClientOptionsBuilder builder, ExternalBrokerOptions external)
    {
        builder.WithTcpServer(external.Host, external.EffectivePort);
        if (external.User.Length > 0) builder.WithCredentials(external.User, external.Password);
        if (!external.Tls) return;
        X509Certificate2Collection? trusted = external.TrustFile.Length > 0 ? TrustFiles.Read(external.TrustFile) : null;
        builder.WithTlsOptions(tls =>
        {
            tls.UseTls().WithTargetHost(external.Host);
            if (trusted is not null) tls.WithTrustChain(trusted).WithRevocationMode(X509RevocationMode.NoCheck);
        });
    }
}
