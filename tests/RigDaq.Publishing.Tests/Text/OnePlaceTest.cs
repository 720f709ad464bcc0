using System.Runtime.CompilerServices;
using RigDaq.Tests.Shared;

namespace RigDaq.Publishing.Tests.Text;

/// <summary>Whatever publishing says to a person is written in the Text room, so that it can be translated there and nowhere else.</summary>
public sealed class OnePlaceTest
{
    // What stays beside its code: names and values of messages, and what other programs are told.
    private static readonly TextExemption[] Exemptions =
    [
        new("BrokerAccess.cs", "rigdaq-publisher-?", "names at the broker"),
        new("BrokerSession.cs", "application/json", "a kind of payload"),
        new("FirstPacketGuard.cs", "guest-", "begins a client's name"),
        new("FirstPacketGuard.cs", "The first packet was .*|The host is ending\\.", "why a connection ends, for the server's log"),
        new("GuestNames.cs", "MQTT", "the protocol's name"),
        new("PacketGate.cs", "A packet of more than  bytes was announced\\.", "why a connection ends, for the server's log"),
        new("PublishingOptions.cs", "rig", "a level of topics"),
        new("RigPublisher.cs", "live|results", "end a client's name"),
        new("RunMessage.cs", "runs/", "a topic"),
        new("Topics.cs", "alarms|live|rigdaq|state", "levels of topics"),
    ];

    public static TheoryData<string> Files => [.. Directory.GetFiles(Source(), "*.cs", SearchOption.AllDirectories)
        .Select(file => Path.GetRelativePath(Source(), file).Replace('\\', '/'))
        .Where(file => file.Split('/')[0] is not ("Text" or "bin" or "obj")).Order(StringComparer.Ordinal)];

    [Fact]
    public void No_word_for_people_stands_outside_the_text_room()
    {
        Assert.NotEmpty(Files);
        Assert.Empty(Files.SelectMany(file => Words(file.Data)).Where(found => !Exemptions.Any(exemption => exemption.Covers(found.File, found.Text)))
            .Select(found => $"{found.File}: {found.Text}"));
    }

    // An exemption that nothing needs any more would hide the next word.
    [Fact]
    public void Every_exemption_is_needed()
    {
        var found = Files.SelectMany(file => Words(file.Data)).ToArray();
        Assert.Empty(Exemptions.Where(exemption => !found.Any(text => exemption.Covers(text.File, text.Text))).Select(exemption => $"{exemption.File}: {exemption.Texts}"));
    }

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("problems.Add($\"mqtt.port is {Port}; expected 1 to 65535.\");", true)]
    [InlineData("throw new IOException(\"In use.\", e);", true)]
    [InlineData("up ? \"online\" : \"offline\"", true)]
    [InlineData("throw new ArgumentException(\"No values.\", nameof(values));", false)]
    [InlineData("logger.LogError(\"The broker {Broker} is away.\", broker);", false)]
    public void The_guard_sees_words(string line, bool expected) => Assert.Equal(expected, Words([line]).Any());

    private static IEnumerable<(string File, string Text)> Words(string file) =>
        Words(File.ReadLines(Path.Combine(Source(), file))).Select(text => (Path.GetFileName(file), text));

    private static IEnumerable<string> Words(IEnumerable<string> lines) =>
        SourceText.Code(lines).SelectMany(SourceText.Literals).Where(SourceText.HasWord);

    private static string Source([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "src", "RigDaq.Publishing"));
}
