using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Packages;
using RigDaq.Core.Comparisons;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>
/// Packages that somebody tampered with, checksums made right again: every member of every record null, left out, twice, or of another
/// kind. Each is refused with words and leaves the archive as it was, or is taken and gives a study that can be opened, compared and
/// exported.
/// </summary>
[Collection(nameof(PrintedOutput))]
public sealed class TamperedPackageTest(ExportedStudy study, TamperedPackageTest.Small small) : IClassFixture<ExportedStudy>,
    IClassFixture<TamperedPackageTest.Small>, IDisposable
{
    private const int Sampled = 100;
    private static readonly bool Long = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1";
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-tampered-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Every_member_tampered_with_is_refused_with_nothing_stored_or_taken_whole()
    {
        (string File, string Text, string What)[] all = [.. Tampered()];
        Assert.True(all.Length > 1000, $"only {all.Length} ways to tamper were found");
        if (!Long) new Random(12).Shuffle(all);
        int refused = 0, taken = 0;
        var archive = new RigArchive(Data, TimeProvider.System, NullLogger.Instance);
        foreach ((string file, string text, string what) in all.Take(Long ? all.Length : Sampled))
        {
            string package = Copied(file, text);
            if (await RefusalAsync(archive, package, what) is { } refusal)
            {
                Assert.NotEmpty(refusal);
                Assert.Equal(0, archive.LastEntry);
                Assert.Empty(archive.Studies.All());
                Assert.Empty(Directory.EnumerateFiles(Path.Combine(Data, "captures")));
                refused++;
                continue;
            }

            archive.Dispose();
            await CheckTakenAsync(what);
            Directory.Delete(Data, recursive: true);
            archive = new RigArchive(Data, TimeProvider.System, NullLogger.Instance);
            taken++;
        }

        archive.Dispose();
        Assert.True(refused > taken && taken > 0, $"{refused} refused, {taken} taken");
    }

    private string Data => Path.Combine(_folder, "data");

    private async Task CheckTakenAsync(string what)
    {
        try
        {
            using var archive = new RigArchive(Data, TimeProvider.System, NullLogger.Instance);
            string id = archive.Studies.All()[0].Id;
            StudyComparison.Of(archive.Studies.All()[0], archive.Runs.OfStudy(id));
            await StudyPackage.WriteAsync(archive, id, Path.Combine(_folder, "again"), new PackageOptions { TracesAsCsv = true });
            Directory.Delete(Path.Combine(_folder, "again"), recursive: true);
            Assert.Empty(archive.Verify());
        }
        catch (Exception e)
        {
            throw new Xunit.Sdk.XunitException($"{what}: {e}");
        }
    }

    [Theory]
    [InlineData("resources", "5")]
    [InlineData("resources", "[null]")]
    [InlineData("resources", "[{\"path\":[],\"hash\":5}]")]
    [InlineData("resources", "[{\"path\":\"../x\",\"hash\":\"sha256:00\"}]")]
    [InlineData("rigdaqSchema", "\"1\"")]
    public async Task A_list_of_files_that_is_none_is_said_and_ends_2(string key, string value)
    {
        string package = Copied("datapackage.json", new JsonObject { ["rigdaqSchema"] = 1, [key] = JsonNode.Parse(value) }.ToJsonString());
        (int Status, string Output, string Said) result = await CommandLine.RunAsync("import", package, "--data", Data);
        Assert.Equal(2, result.Status);
        Assert.Contains("datapackage.json", result.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_calibration_without_a_curve_is_refused_and_the_folder_opens_as_before()
    {
        using (var archive = new RigArchive(Data, TimeProvider.System, NullLogger.Instance)) PulledStudy.Fill(archive, specimensAPrint: 1,
            loadingSeconds: 0.5);
        string line = File.ReadAllLines(Path.Combine(small.Package, "calibrations.jsonl"))[0];
        var calibration = JsonNode.Parse(line)!.AsObject();
        calibration.Remove("curve");
        calibration["id"] = "another";
        string package = Copied("calibrations.jsonl", line + "\n" + calibration.ToJsonString() + "\n");
        byte[] before = File.ReadAllBytes(Path.Combine(Data, "journal.jsonl"));
        (int Status, string Output, string Said) result = await CommandLine.RunAsync("import", package, "--data", Data);
        Assert.Equal(2, result.Status);
        Assert.Contains("curve", result.Said, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Path.Combine(Data, "journal.jsonl")));
        Assert.Equal(0, (await CommandLine.RunAsync("study", "list", "--data", Data)).Status);
        Assert.Equal(0, (await CommandLine.RunAsync("rebuild", "--data", Data)).Status);
    }

    [Theory]
    [InlineData("\"NaN\"", "finite")]
    [InlineData("1e400", "finite")]
    public async Task A_strength_that_is_no_finite_number_is_refused(string figure, string word)
    {
        (int Status, string Output, string Said) result = await ImportedWith(strength => figure, "refused");
        Assert.Equal(2, result.Status);
        Assert.Contains(word, result.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_strength_that_does_not_follow_from_its_samples_is_said_and_an_honest_one_is_not()
    {
        (int Status, string Output, string Said) tenfold = await ImportedWith(strength => JsonSerializer.Serialize(strength * 10),
            "tenfold");
        Assert.Equal(0, tenfold.Status);
        Assert.Contains("does not follow from its samples", tenfold.Said, StringComparison.Ordinal);
        (int Status, string Output, string Said) honest = await CommandLine.RunAsync("import", study.Package, "--data",
            Path.Combine(_folder, "honest"));
        Assert.Equal(0, honest.Status);
        Assert.DoesNotContain("follow", honest.Said, StringComparison.Ordinal);
    }

    private async Task<(int Status, string Output, string Said)> ImportedWith(Func<double, string> figure, string data)
    {
        string[] lines = File.ReadAllLines(Path.Combine(small.Package, "runs.jsonl"));
        int at = Array.FindIndex(lines, line => line.Contains("\"megapascals\":", StringComparison.Ordinal));
        double strength = JsonNode.Parse(lines[at])!["strength"]!["megapascals"]!.GetValue<double>();
        lines[at] = lines[at].Replace($"\"megapascals\":{JsonSerializer.Serialize(strength)}", $"\"megapascals\":{figure(strength)}",
            StringComparison.Ordinal);
        return await CommandLine.RunAsync("import", Copied("runs.jsonl", string.Join('\n', lines) + "\n"), "--data",
            Path.Combine(_folder, data));
    }

    private static async Task<string?> RefusalAsync(RigArchive archive, string package, string what)
    {
        try
        {
            await StudyPackage.ReadAsync(archive, package);
            return null;
        }
        catch (Exception e) when (e is InvalidDataException or ArchiveConflictException or ArchiveException)
        {
            return e.Message;
        }
        catch (Exception e)
        {
            throw new Xunit.Sdk.XunitException($"{what}: {e}");
        }
    }

    private IEnumerable<(string File, string Text, string What)> Tampered()
    {
        foreach (string file in Directory.GetFiles(small.Package).Select(Path.GetFileName).OfType<string>()
            .Where(name => Path.GetExtension(name) is ".json" or ".jsonl"))
        {
            string[] lines = [.. File.ReadAllLines(Path.Combine(small.Package, file))];
            string whole = file == "datapackage.json" ? string.Concat(lines) : lines[0];
            string rest = file == "datapackage.json" ? "" : string.Join('\n', lines.Skip(1)) + "\n";
            foreach ((string path, string text) in Changes(JsonNode.Parse(whole)!)) yield return
                (file, text + "\n" + rest, $"{file}: {path}");
            if (rest.Length > 0) yield return (file, whole + "\n" + whole + "\n" + rest, $"{file}: first line twice");
            yield return (file, "null\n" + rest, $"{file}: a null line");
        }
    }

    // Values of one shape (the second sample, the third specimen) are tampered with once.
    private static IEnumerable<(string Path, string Text)> Changes(JsonNode root)
    {
        string text = root.ToJsonString();
        foreach (object[] steps in Places(root, []).DistinctBy(place => string.Join('.', place.Select(step => step is int ? "[]" : step)))
            .ToList())
        {
            string path = string.Join('.', steps);
            foreach (string other in new[] { "null", "5", "-1", "\"x\"", "\"\\u001b[2J\"", "true", "[]", "{}", "[null]", "1e308",
                "99999999999999999999" })
            {
                JsonNode changed = JsonNode.Parse(text)!;
                Put(changed, steps, JsonNode.Parse(other));
                if (changed.ToJsonString() is var tampered && tampered != text) yield return ($"{path} = {other}", tampered);
            }

            if (steps[^1] is not string key) continue;
            JsonNode without = JsonNode.Parse(text)!;
            At(without, steps[..^1]).AsObject().Remove(key);
            yield return ($"{path} left out", without.ToJsonString());
            JsonNode twice = JsonNode.Parse(text)!;
            JsonObject members = At(twice, steps[..^1]).AsObject();
            members[key + "twice"] = null;
            yield return ($"{path} twice", twice.ToJsonString().Replace($"\"{key}twice\"", $"\"{key}\"", StringComparison.Ordinal));
        }
    }

    private static void Put(JsonNode root, object[] steps, JsonNode? value)
    {
        JsonNode parent = At(root, steps[..^1]);
        if (steps[^1] is int index) parent.AsArray()[index] = value;
        else parent.AsObject()[(string)steps[^1]] = value;
    }

    private static JsonNode At(JsonNode root, object[] steps)
        => steps.Aggregate(root, (node, step) => (step is int index ? node[index] : node[(string)step])!);

    private static IEnumerable<object[]> Places(JsonNode node, object[] here) => node switch
    {
        JsonObject members => members.SelectMany(member => Within(member.Value, [.. here, member.Key])),
        JsonArray array => array.Take(2).SelectMany((element, i) => Within(element, [.. here, i])),
        _ => [],
    };

    private static IEnumerable<object[]> Within(JsonNode? node, object[] here) => node is null ? [here] : Places(node, here).Prepend(here);

    /// <summary>The package with one file another, its checksum made right.</summary>
    private string Copied(string file, string text)
    {
        string copy = Path.Combine(_folder, "package");
        Directory.CreateDirectory(copy);
        foreach (string one in Directory.GetFiles(small.Package, "*", SearchOption.AllDirectories))
        {
            string to = Path.Combine(copy, Path.GetRelativePath(small.Package, one));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(one, to, overwrite: true);
        }

        File.WriteAllText(Path.Combine(copy, file), text);
        if (file == "datapackage.json") return copy;
        string list = Path.Combine(copy, "datapackage.json");
        JsonNode package = JsonNode.Parse(File.ReadAllText(list))!;
        package["resources"]!.AsArray().First(resource => (string)resource!["path"]! == file)!["hash"] = "sha256:"
            + Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(Path.Combine(copy, file))));
        File.WriteAllText(list, package.ToJsonString());
        return copy;
    }

    /// <summary>A package of twelve short runs.</summary>
    public sealed class Small : IAsyncLifetime
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-small-").FullName;

        public string Package => Path.Combine(_folder, "package");

        public async ValueTask InitializeAsync()
        {
            using var archive = new RigArchive(Path.Combine(_folder, "data"), TimeProvider.System, NullLogger.Instance);
            PulledStudy.Fill(archive, specimensAPrint: 1, loadingSeconds: 0.5);
            await StudyPackage.WriteAsync(archive, PulledStudy.Id, Package, new PackageOptions { TracesAsCsv = true });
        }

        public ValueTask DisposeAsync()
        {
            Directory.Delete(_folder, recursive: true);
            return ValueTask.CompletedTask;
        }
    }
}
