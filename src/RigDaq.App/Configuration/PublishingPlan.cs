using RigDaq.Publishing.Settings;

namespace RigDaq.App.Configuration;

/// <summary>From the configuration's mqtt section to what the publishing room wants.</summary>
internal static class PublishingPlan
{
    public static PublishingOptions From(DaemonOptions options, int? embeddedPort)
    {
        MqttOptions mqtt = options.Mqtt;
        var publishing = new PublishingOptions
        {
            Enabled = mqtt.Broker != "off",
            RigName = options.Name,
            TopicRoot = mqtt.TopicRoot,
            Consumers = mqtt.Consumers
        };
        if (mqtt.Broker == "external")
        {
            publishing.External = External(mqtt);
        }
        else if (embeddedPort is { } port)
        {
            publishing.Broker = new EmbeddedBrokerOptions
            {
                Port = port,
                Users = mqtt.User is { } user ? [new BrokerUser { User = user, Password = mqtt.Password ?? "" }] : [],
            };
        }

        return publishing;
    }

    /// <summary>The broker elsewhere.</summary>
    public static ExternalBrokerOptions External(MqttOptions mqtt) => new()
    {
        Host = mqtt.Host,
        Port = mqtt.Port,
        User = mqtt.User ?? "",
        Password = mqtt.Password ?? "",
        Tls = mqtt.Tls,
        TrustFile = mqtt.TrustFile ?? "",
    };
}
