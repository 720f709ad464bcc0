using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Text.Json;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>Packages that earlier versions wrote (the archive's tests keep them) come in by <c>rigdaq import</c> with the figures that
/// those versions gave.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class PackageOfBeforeTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-before-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("schema-1-package-runs", "kestrel-lane-fan-20261130-142918", 32.10628225139986)]
    [InlineData("schema-2-package-earlier", "session", 33.001666666666665)]
    public async Task A_package_of_before_is_imported_with_its_figures(string package, string study, double firstMean)
    {
        await ImportAsync(package);
        JsonElement answer = (await ShowAsync(study)).GetProperty("answer");
        JsonElement first = answer.GetProperty("groups").EnumerateArray().First(g => g.GetProperty("material").GetString() == "Alder"
            && g.GetProperty("condition").GetString() == "fan off");
        Assert.Equal(firstMean, first.GetProperty("mean").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task A_plan_of_before_is_imported_with_its_prints()
    {
        await ImportAsync("schema-1-package-plan");
        Assert.Equal(18, (await ShowAsync("two-prints")).GetProperty("study").GetProperty("prints").GetArrayLength());
    }

    [Fact]
    public async Task What_a_study_was_set_against_and_what_could_not_be_printed_come_with_it()
    {
        await ImportAsync("schema-2-package-earlier");
        JsonElement[] answers = [.. (await ShowAsync("session")).GetProperty("answer").GetProperty("answers").EnumerateArray()];
        JsonElement earlier = answers.First(a => a.GetProperty("question").GetString() == "earlier study");
        Assert.Equal(("Alder", 200, true), (earlier.GetProperty("material").GetString(), earlier.GetProperty("setting").GetDecimal(),
            earlier.GetProperty("correctedByControl").GetBoolean()));
        Assert.Equal(-0.012895531500665136, earlier.GetProperty("logEstimate").GetDouble(), 1e-9);

        // That version counted a print once, however often it was tried.
        JsonElement failed = answers.Single(a => a.GetProperty("question").GetString() == "not printable"
            && a.GetProperty("condition").GetString() == "fan on");
        Assert.Equal((3, 3), (failed.GetProperty("count").GetInt32(), failed.GetProperty("total").GetInt32()));
    }

    private async Task ImportAsync(string package)
    {
        string folder = Path.Combine(_folder, package);
        ZipFile.ExtractToDirectory(Path.Combine(Before(), package + ".zip"), folder);
        (int status, _, string said) = await CommandLine.RunAsync("import", folder, "--data", Path.Combine(_folder, "data"));
        Assert.True(status == 0, said);
    }

    private async Task<JsonElement> ShowAsync(string study)
    {
        (int status, string output, string said) = await CommandLine.RunAsync("study", "show", study, "--json", "--data",
            Path.Combine(_folder, "data"));
        Assert.True(status == 0, said);
        return JsonDocument.Parse(output).RootElement;
    }

    private static string Before([CallerFilePath] string file = "")
        => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(file)!, "..", "..", "RigDaq.Archive.Tests", "Before"));
}
