using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Publishing.Tests.Text;

/// <summary>Whatever publishing says to a person is written in the Text room, so that it can be translated there and nowhere
/// else.</summary>
public sealed class OnePlaceTest : OnePlaceGuard
{
    protected override string Project => "RigDaq.Publishing";

    // What stays beside its code: names and values of messages, and what other programs are told.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("BrokerAccess.cs", "rigdaq-publisher-?", "names at the broker"),
        new("BrokerSession.cs", "application/json", "a kind of payload"),
        new("FirstPacketGuard.cs", "guest-", "begins a client's name"),
        new("FirstPacketGuard.cs", "The first packet was .*|The host is ending\\.", "why a connection ends, for the server's log"),
        new("GuestNames.cs", "MQTT", "the protocol's name"),
        new("Namesake.cs", "check-|online|instance", "begins a client's name; keys of a message"),
        new("BrokerTrial.cs", "results", "ends a client's name"),
        new("PacketGate.cs", "A packet of more than  bytes was announced\\.", "why a connection ends, for the server's log"),
        new("PublishingOptions.cs", "rig", "a level of topics"),
        new("RigPublisher.cs", "live|results", "end a client's name"),
        new("RunMessage.cs", "runs/", "a topic"),
        new("Topics.cs", "alarms|/?live|rigdaq|/?state|check|consumers/.*", "levels of topics"),
    ];

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("problems.Add($\"mqtt.port is {Port}; expected 1 to 65535.\");", true)]
    [InlineData("throw new IOException(\"In use.\", e);", true)]
    [InlineData("up ? \"online\" : \"offline\"", true)]
    [InlineData("throw new ArgumentException(\"No values.\", nameof(values));", false)]
    [InlineData("logger.LogError(\"The broker {Broker} is away.\", broker);", false)]
    public void The_guard_sees_words(string line, bool expected) => Assert.Equal(expected, Words([line]).Any());
}
