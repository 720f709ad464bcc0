using System.Collections;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using NJsonSchema;
using RigDaq.App.Configuration;
using RigDaq.Daemon.Tests.House;

namespace RigDaq.Daemon.Tests.Configuration;

/// <summary>An independent validator (NJsonSchema) holds files against the schema of the configuration, and comes to what the reader comes
/// to.</summary>
public sealed partial class OptionsSchemaTest : IDisposable
{
    private readonly string _file = Path.GetTempFileName();

    public void Dispose() => File.Delete(_file);

    [Theory]
    [InlineData("""{ "$schema": "rigdaq.schema.json", "serial": { "path": "/dev/ttyACM0", "baud": 500000, "lines": { "columns": 2 } } }""", true)]
    [InlineData("""{ "pull": { "detection": { "fallSeconds": 0.5 } }, "units": { "force": "lbf" }, "mqtt": { "consumers": ["lake"] } }""", true)]
    [InlineData("""{ "serial": { "bauds": 500000 } }""", false)]
    [InlineData("""{ "serial": { "raiseDtr": "yes" } }""", false)]
    [InlineData("""{ "http": 8377 }""", false)]
    [InlineData("""{ "mqtt": { "effectivePort": 1 } }""", false)]
    public async Task The_schema_and_the_reader_agree(string file, bool isRight)
    {
        JsonSchema schema = await JsonSchema.FromJsonAsync(OptionsSchema.Make().ToJsonString(), TestContext.Current.CancellationToken);
        Assert.Equal(isRight, schema.Validate(file).Count == 0);
        await File.WriteAllTextAsync(_file, file, TestContext.Current.CancellationToken);
        Exception? refused = Record.Exception(() => OptionsReader.Read(_file, new Hashtable()));
        Assert.Equal(isRight, refused is null);
    }

    [Fact]
    public async Task The_pages_example_is_right_by_it_and_the_defaults_are_there()
    {
        JsonNode made = OptionsSchema.Make();
        JsonSchema schema = await JsonSchema.FromJsonAsync(made.ToJsonString(), TestContext.Current.CancellationToken);
        string page = await File.ReadAllTextAsync(Page.Of("docs", "configuration.md").File, TestContext.Current.CancellationToken);
        Assert.Empty(schema.Validate(Example().Match(page).Groups[1].Value));
        Assert.Equal(8377, (int)made["properties"]!["http"]!["properties"]!["port"]!["default"]!);
        Assert.Equal("warning", (string)made["properties"]!["log"]!["properties"]!["level"]!["default"]!);
    }

    [GeneratedRegex("```json\\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Example();
}
