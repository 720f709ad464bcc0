using System.Runtime.CompilerServices;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Messages;

/// <summary>docs/mqtt.md is what the code writes, member by member and value by value.</summary>
public sealed partial class DocumentationTest
{
    private static readonly Dictionary<string, byte[]> Written = new()
    {
        ["state"] = PayloadJson.Write(Samples.State()),
        ["offline"] = OfflineMessage.Payload,
        ["live"] = PayloadJson.Write(new LiveMessage
        {
            Block = 1840,
            StartSeconds = 73.6,
            IntervalSeconds = 0.0125,
            ForceNewtons = [411.32, 411.81, 412.27],
            CrossheadMillimetres = 1.8125,
        }),
        ["alarm"] = PayloadJson.Write(Samples.Alarm()),
        ["run"] = RunMessage.From(Samples.Run(), Samples.Study()).ToOutbox().Payload,
    };

    public static TheoryData<string> Names => [.. Written.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_example_is_what_the_code_writes(string name)
    {
        string text = Examples().Single(m => m.Groups["name"].Value == name).Groups["json"].Value;
        Assert.Equal(Normal(JsonDocument.Parse(text)), Normal(JsonDocument.Parse(Written[name])));
    }

    [Fact]
    public void No_example_stands_there_that_no_code_writes() =>
        Assert.Equal(Written.Keys.Order(), Examples().Select(m => m.Groups["name"].Value).Order());

    [Fact]
    public void Every_topic_is_named()
    {
        var topics = new Topics("<rig>".Trim('<', '>'));
        foreach (string topic in (string[])[topics.State, topics.Live, topics.Alarms, topics.Below("runs/")])
        {
            Assert.Contains(topic.Replace("/rig/", "/<rig>/", StringComparison.Ordinal), Text(), StringComparison.Ordinal);
        }
    }

    private static string Normal(JsonDocument document) => JsonSerializer.Serialize(document.RootElement);

    private static MatchCollection Examples() => ExamplePattern().Matches(Text());

    private static string Text([CallerFilePath] string here = "") =>
        File.ReadAllText(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "docs", "mqtt.md"));

    [GeneratedRegex("<!-- example: (?<name>\\w+) -->\\s*```json\\s*(?<json>.*?)```", RegexOptions.Singleline)]
    private static partial Regex ExamplePattern();
}
