using System.Diagnostics;
using System.Text.Json.Nodes;
using NJsonSchema;
using NJsonSchema.Validation;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>The exported package against what others wrote: the standard's own schemas, a schema validator, sha256sum.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class PackageStandardTest(ExportedStudy exported) : IClassFixture<ExportedStudy>
{
    [Fact]
    public async Task The_descriptor_is_what_the_published_schema_of_the_standard_asks_for()
    {
        // data-package.json of the standard, see tests/corpus/data-package-standard.
        string descriptor = await Descriptor();
        Assert.Empty(await Faults("data-package.json", descriptor));
        // The schema does refuse: a name with a blank in it, and a resource without a path.
        Assert.NotEmpty(await Faults("data-package.json",
            descriptor.Replace($"\"{PulledStudy.Id}\"", "\"Kestrel Lane\"", StringComparison.Ordinal)));
        Assert.NotEmpty(await Faults("data-package.json", descriptor.Replace("\"path\"", "\"file\"", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Every_table_is_described_as_the_published_schema_of_tabular_resources_asks()
    {
        int tables = 0;
        foreach (JsonNode? resource in JsonNode.Parse(await Descriptor())!["resources"]!.AsArray()
            .Where(resource => resource!["type"]?.GetValue<string>() == "table"))
        {
            // Version 1 says "profile" where version 2 says "type".
            var first = (JsonObject)resource!.DeepClone();
            first["profile"] = "tabular-data-resource";
            Assert.Empty(await Faults("tabular-data-resource.json", first.ToJsonString()));
            first["schema"]!["fields"]![0]!["type"] = "text";
            Assert.NotEmpty(await Faults("tabular-data-resource.json", first.ToJsonString()));
            tables++;
        }

        Assert.True(tables >= 7, $"{tables} tables");
    }

    [Fact]
    public async Task The_checksums_are_those_that_sha256sum_computes()
    {
        const string Program = "/usr/bin/sha256sum";
        Assert.SkipUnless(File.Exists(Program), "sha256sum (GNU coreutils) is not here.");
        JsonArray resources = JsonNode.Parse(await Descriptor())!["resources"]!.AsArray();
        Assert.All(resources, resource => Assert.StartsWith("sha256:", resource!["hash"]!.GetValue<string>(), StringComparison.Ordinal));
        string list = string
            .Concat(resources
            .Select(resource => $"{resource!["hash"]!.GetValue<string>()["sha256:".Length..]}  {resource["path"]!.GetValue<string>()}\n"));
        string sums = exported.In("sums");
        await File.WriteAllTextAsync(sums, list, TestContext.Current.CancellationToken);
        using var program = Process.Start(new ProcessStartInfo(Program, ["--check", "--strict", sums])
        { WorkingDirectory = exported.Package, RedirectStandardOutput = true })!;
        string said = await program.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await program.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, program.ExitCode);
        Assert.Equal(resources.Count, said.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Count(line => line.EndsWith(": OK", StringComparison.Ordinal)));
    }

    private static async Task<ICollection<ValidationError>> Faults(string schema, string json)
    {
        string file = Path.Combine(AppContext.BaseDirectory, "data-package-standard", schema);
        return (await JsonSchema.FromFileAsync(file, TestContext.Current.CancellationToken)).Validate(json, SchemaType.JsonSchema);
    }

    private Task<string> Descriptor()
        => File.ReadAllTextAsync(Path.Combine(exported.Package, "datapackage.json"), TestContext.Current.CancellationToken);
}
