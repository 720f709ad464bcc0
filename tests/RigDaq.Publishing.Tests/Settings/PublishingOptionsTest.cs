using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Tests.Settings;

public sealed class PublishingOptionsTest
{
    [Fact]
    public void The_defaults_have_no_problem() => Assert.Empty(new PublishingOptions().Problems());

    [Theory]
    [InlineData("")]
    [InlineData("bench/1")]
    [InlineData("bench+")]
    [InlineData("#")]
    [InlineData("bench 1")]
    public void A_rig_name_that_is_no_level_of_a_topic_is_named(string name) =>
        Assert.StartsWith("name is", Assert.Single(new PublishingOptions { RigName = name }.Problems()), StringComparison.Ordinal);

    [Theory]
    [InlineData(19)]
    [InlineData(51)]
    public void A_live_block_out_of_range_is_named(int milliseconds) =>
        Assert.StartsWith("mqtt.liveBlockMilliseconds is", Assert.Single(
            new PublishingOptions { LiveBlockMilliseconds = milliseconds }.Problems()), StringComparison.Ordinal);

    [Fact]
    public void A_broker_that_others_can_reach_needs_a_user()
    {
        var options = new PublishingOptions();
        options.Broker.Address = "0.0.0.0";
        Assert.Contains("mqtt.users is empty", Assert.Single(options.Problems()), StringComparison.Ordinal);
        options.Broker.Users.Add(new BrokerUser { User = "reader", Password = "maple" });
        Assert.Empty(options.Problems());
    }

    [Fact]
    public void Each_wrong_key_of_the_embedded_broker_is_named()
    {
        var options = new PublishingOptions
        {
            Broker = new EmbeddedBrokerOptions
            { Address = "nowhere", Port = 70000, ClientsMax = 0, Users = { new BrokerUser { User = "a" } } },
        };
        Assert.Equal(
            ["mqtt.address", "mqtt.port", "mqtt.clientsMax", "mqtt.users.0.password"],
            options.Problems().Select(p => p.Split(' ')[0]));
    }

    [Fact]
    public void Each_wrong_key_of_an_external_broker_is_named()
    {
        var options = new PublishingOptions
        {
            External = new ExternalBrokerOptions { Port = 0, Password = "p", Tls = true, TrustFile = "/no/such/file.pem" },
        };
        Assert.Equal(
            ["mqtt.host", "mqtt.port", "mqtt.password", "mqtt.trustFile"],
            options.Problems().Select(p => p.Split(' ')[0]));
    }

    [Fact]
    public void The_port_of_an_external_broker_follows_encryption()
    {
        Assert.Equal(1883, new ExternalBrokerOptions { Host = "broker" }.EffectivePort);
        Assert.Equal(8883, new ExternalBrokerOptions { Host = "broker", Tls = true }.EffectivePort);
    }
}
