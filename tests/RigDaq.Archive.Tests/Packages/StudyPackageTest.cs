using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Packages;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Tests.Packages;

public sealed class StudyPackageTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly RigArchive _archive;

    public StudyPackageTest()
    {
        _archive = new RigArchive(_folder.In("data"), TimeProvider.System, NullLogger.Instance);
        Fill();
    }

    public void Dispose()
    {
        _archive.Dispose();
        _folder.Dispose();
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_package_read_back_gives_the_same_study_runs_traces_and_figures(bool csv)
    {
        await WriteAsync(new PackageOptions { TracesAsCsv = csv, Licence = "CC-BY-4.0" });
        using RigArchive other = Other();
        for (int again = 0; again < 2; again++) Assert.Equal("fan-quoted",
            (await StudyPackage.ReadAsync(other, _folder.In("package"))).StudyId);
        Same.Runs(_archive, other);
        Study study = other.Studies.All().Single();
        Same.Records(
            StudyComparison.Of(_archive.Studies.All().Single(), _archive.Runs.OfStudy(study.Id)).Answer,
            StudyComparison.Of(study, other.Runs.OfStudy(study.Id)).Answer);
        Assert.Equal(0, other.Outbox.Count);
    }

    [Fact]
    public async Task The_table_of_strengths_gives_the_groups_figures_again()
    {
        await WriteAsync(new PackageOptions());
        string[][] rows = [.. (await File.ReadAllLinesAsync(_folder.In("package", "strengths.csv"), TestContext.Current.CancellationToken))
            .Skip(1).Select(line => line.Split(','))];
        string[][] groups = [.. (await File.ReadAllLinesAsync(_folder.In("package", "groups.csv"), TestContext.Current.CancellationToken))
            .Skip(1).Select(line => line.Split(','))];
        Assert.Equal(2, groups.Length);
        foreach (string[] group in groups)
        {
            // Computed here a second way, from the text alone.
            double[] strengths =
                [.. rows.Where(row => row[1] == group[1]).Select(row => double.Parse(row[3], CultureInfo.InvariantCulture))];
            Assert.Equal(int.Parse(group[3], CultureInfo.InvariantCulture), strengths.Length);
            Assert.Equal(double.Parse(group[5], CultureInfo.InvariantCulture), strengths.Average(), 1e-12);
        }
    }

    [Fact]
    public async Task Every_file_is_described_with_its_size_its_checksum_and_its_columns_with_units()
    {
        await WriteAsync(new PackageOptions { Licence = "CC0-1.0" });
        JsonNode package =
            JsonNode.Parse(await File.ReadAllTextAsync(_folder.In("package", "datapackage.json"), TestContext.Current.CancellationToken))!;
        Assert.Equal("CC0-1.0", package["licenses"]![0]!["name"]!.GetValue<string>());
        JsonArray resources = package["resources"]!.AsArray();
        string[] described = [.. resources.Select(resource => resource!["path"]!.GetValue<string>()), "README.md", "datapackage.json"];
        Assert.Equal(Directory.GetFiles(_folder.In("package")).Select(Path.GetFileName).Order(), described.Order());
        foreach (JsonNode? resource in resources)
        {
            byte[] bytes = await File.ReadAllBytesAsync(_folder.In("package", resource!["path"]!.GetValue<string>()),
                TestContext.Current.CancellationToken);
            Assert.Equal(bytes.Length, resource["bytes"]!.GetValue<long>());
            Assert.Equal("sha256:" + Convert.ToHexStringLower(SHA256.HashData(bytes)), resource["hash"]!.GetValue<string>());
            // The standard's rule for names.
            Assert.Matches("^[a-z0-9._-]+$", resource["name"]!.GetValue<string>());
            foreach (JsonNode? field in resource["schema"]?["fields"]?.AsArray() ?? [])
            {
                if (field!["name"]!.GetValue<string>().EndsWith("_MPa", StringComparison.Ordinal)) Assert.Equal("MPa",
                    field["unit"]!.GetValue<string>());
            }
        }
    }

    [Fact]
    public async Task A_file_that_was_changed_or_lost_is_told_and_nothing_is_stored()
    {
        await WriteAsync(new PackageOptions());
        using RigArchive other = Other();
        string strengths = _folder.In("package", "strengths.csv");
        await File.AppendAllTextAsync(strengths, " ", TestContext.Current.CancellationToken);
        InvalidDataException changed =
            await Assert.ThrowsAsync<InvalidDataException>(() => StudyPackage.ReadAsync(other, _folder.In("package")));
        Assert.Contains("strengths.csv", changed.Message, StringComparison.Ordinal);
        File.Delete(strengths);
        await Assert.ThrowsAsync<InvalidDataException>(() => StudyPackage.ReadAsync(other, _folder.In("package")));
        await Assert.ThrowsAsync<InvalidDataException>(() => StudyPackage.ReadAsync(other, _folder.In("nowhere")));
        Assert.Empty(other.Studies.All());
    }

    [Fact]
    public async Task A_package_never_makes_us_read_files_elsewhere()
    {
        await WriteAsync(new PackageOptions());
        string file = _folder.In("package", "datapackage.json");
        string text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(file, text.Replace("\"strengths.csv\"", "\"../data/journal.jsonl\"", StringComparison.Ordinal),
            TestContext.Current.CancellationToken);
        using RigArchive other = Other();
        await Assert.ThrowsAsync<InvalidDataException>(() => StudyPackage.ReadAsync(other, _folder.In("package")));
    }

    [Fact]
    public async Task Nothing_is_overwritten()
    {
        await WriteAsync(new PackageOptions());
        await Assert.ThrowsAsync<ArchiveException>(() => WriteAsync(new PackageOptions()));
        ArchiveException unknown =
            await Assert.ThrowsAsync<ArchiveException>(() => StudyPackage.WriteAsync(_archive, "none", _folder.In("p2"),
            new PackageOptions()));
        Assert.Contains("fan-quoted", unknown.Message, StringComparison.Ordinal);
        using RigArchive other = Other();
        other.Studies.Save(Example.Study("fan-quoted"), "another study of the same id");
        await Assert.ThrowsAsync<ArchiveConflictException>(() => StudyPackage.ReadAsync(other, _folder.In("package")));
    }

    private Task<IReadOnlyList<string>> WriteAsync(PackageOptions options) =>
        StudyPackage.WriteAsync(_archive, "fan-quoted", _folder.In("package"), options);

    private RigArchive Other() => new(_folder.In("other"), TimeProvider.System, NullLogger.Instance);

    private void Fill()
    {
        Print[] prints = [.. new[] { "fan off", "fan on" }.Select(fan => Print.Of(fan[^2..], new GroupKey("Alder \"2\"", fan, 210.5m)))];
        _archive.Calibrations.Save(Example.Calibration());
        var specimens = new List<Specimen>();
        var random = new Random(4);
        for (int number = 1; number <= 10; number++)
        {
            Print print = prints[number % 2];
            specimens.Add(new Specimen
            {
                Id = $"A1-{number}",
                PrintId = print.Id,
                Setting = 210.5m,
                Order = number,
                Section = new SectionMeasurement { WidthsMillimetres = [4.01, 4.02], ThicknessesMillimetres = [4.0] },
            });
        }

        _archive.Studies.Save(Example.Study("fan-quoted") with { Prints = prints, Specimens = specimens }, "new");
        for (int number = 1; number <= 10; number++)
        {
            PullRecord pull = Example.Pull(Example.Head(number, "fan-quoted"), number == 7 ? 0 : 300);
            Run run = Example.Run(pull);
            _archive.Runs.Store(run with { Strength = run.Strength! with { Megapascals = 30 + (random.NextDouble() * 10) } }, pull, []);
        }

        Run last = _archive.Runs.Latest(1)[0];
        _archive.Runs.Revise(last with
        {
            Revision = 1,
            RevisionReason = "left out",
            Void = new RunVoid(VoidKind.Slip, "a \"slip\", they say\nin two lines", Example.Start)
        }, []);
    }
}
