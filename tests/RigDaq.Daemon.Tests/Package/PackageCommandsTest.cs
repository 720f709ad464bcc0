using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>export, import, pictures and compare as a person types them.</summary>
[Collection(nameof(PrintedOutput))]
public class PackageCommandsTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-package-").FullName;

    public PackageCommandsTest()
    {
        using var archive = new RigArchive(In("data"), TimeProvider.System, NullLogger.Instance);
        Fill(archive);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task What_one_exports_another_imports_and_both_report_the_same()
    {
        (int status, string output, string said) = await CommandLine.RunAsync("export", "fan", "--out", In("package"), "--data", In("data"),
            "--json");
        Assert.Equal(0, status);
        Assert.Contains("No licence was picked", said, StringComparison.Ordinal);
        Assert.Contains("traces.parquet", JsonDocument.Parse(output).RootElement.GetProperty("files").ToString(), StringComparison.Ordinal);
        (status, output, _) = await CommandLine.RunAsync("import", In("package"), "--data", In("other"), "--json");
        JsonElement imported = JsonDocument.Parse(output).RootElement;
        Assert.Equal((0, "fan", 8), (status, imported.GetProperty("study").GetString(), imported.GetProperty("runs").GetInt32()));
        // The seven strengths are invented: they follow from nothing, which is said of each.
        Assert.Equal(7, imported.GetProperty("remarks").GetArrayLength());
        foreach (string data in new[] { "data", "other" }) Assert.Equal(0,
            (await CommandLine.RunAsync("report", "fan", "--out", In(data + ".html"), "--data", In(data))).Status);
        Assert.Equal(await WithoutMoment("data.html"), await WithoutMoment("other.html"));
    }

    [Fact]
    public async Task A_data_folder_that_an_import_makes_is_its_owners_alone()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has other rights.");
        if (OperatingSystem.IsWindows()) return; // For the analyzer.
        Assert.Equal(0, (await CommandLine.RunAsync("export", "fan", "--out", In("package"), "--data", In("data"))).Status);
        Assert.Equal(0, (await CommandLine.RunAsync("import", In("package"), "--data", In("new/folder"))).Status);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(In("new/folder")));
        (_, _, string said) = await CommandLine.RunAsync("check", "--data", In("new/folder"));
        Assert.DoesNotContain("chmod", said, StringComparison.Ordinal);
        File.SetUnixFileMode(In("new/folder"), File.GetUnixFileMode(In("new/folder")) | UnixFileMode.OtherExecute);
        (int status, _, said) = await CommandLine.RunAsync("check", "--data", In("new/folder"));
        Assert.Equal(0, status);
        Assert.Contains($"chmod -R go= '{In("new/folder")}'", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_imported_study_is_worked_on_only_where_a_person_says_so()
    {
        Assert.Equal(0, (await CommandLine.RunAsync("export", "fan", "--out", In("package"), "--data", In("data"))).Status);
        Assert.Equal(0,
            (await CommandLine.RunAsync("study", "make", "own", "--material", "Alder", "--condition", "dried", "--data",
            In("other"))).Status);
        (int status, _, string said) = await CommandLine.RunAsync("import", In("package"), "--data", In("other"));
        Assert.Equal(0, status);
        Assert.Contains("rigdaq study work fan", said, StringComparison.Ordinal);
        Assert.Equal("{\"study\":\"own\",\"chosen\":false}", await WorkAsync());
        Assert.Equal("{\"study\":\"fan\",\"chosen\":true}", await WorkAsync("fan"));
        Assert.Contains("imported, active", (await CommandLine.RunAsync("study", "list", "--data", In("other"))).Output,
            StringComparison.Ordinal);
        Assert.Contains("The active study is still fan",
            (await CommandLine.RunAsync("study", "make", "later", "--material", "Alder", "--condition", "dried", "--data",
            In("other"))).Said, StringComparison.Ordinal);
        Assert.Equal("{\"study\":\"later\",\"chosen\":false}", await WorkAsync("--newest"));
        (status, _, said) = await CommandLine.RunAsync("study", "work", "none", "--data", In("other"));
        Assert.NotEqual(0, status);
        Assert.Contains("There are: later, ", said, StringComparison.Ordinal);

        async Task<string> WorkAsync(params string[] what)
            => (await CommandLine.RunAsync(["study", "work", .. what, "--data", In("other"), "--json"])).Output.Trim();
    }

    [Fact]
    public async Task The_exported_strengths_compare_to_the_same_groups()
    {
        Assert.Equal(0,
            (await CommandLine.RunAsync("export", "fan", "--out", In("package"), "--licence", "CC0-1.0", "--traces", "csv", "--data",
            In("data"))).Status);
        (int status, string output, _) = await CommandLine.RunAsync("compare", In("package", "strengths.csv"), "--json");
        Assert.Equal(0, status);
        double[] means = [.. JsonDocument.Parse(output).RootElement.GetProperty("groups").EnumerateArray()
            .Select(group => group.GetProperty("mean").GetDouble())];
        // The invented strengths: 30 to 33 with the fan off, 40 to 43 with it on.
        Assert.Equal([31.5, 41.5], means.Order());
    }

    [Theory]
    [InlineData("svg", "page")]
    [InlineData("png", "video")]
    public async Task Pictures_are_written_in_the_format_and_style_that_was_asked_for(string format, string style)
    {
        (int status, string output, _) = await CommandLine.RunAsync("pictures", "fan", "--out", In("pictures"), "--format", format,
            "--style", style, "--dark", "--transparent", "--data", In("data"));
        Assert.Equal(0, status);
        Assert.Contains($"strength-alder.{format}", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n', StringSplitOptions.RemoveEmptyEntries), file => Assert.True(new FileInfo(file.Trim()).Length > 1000));
    }

    [Fact]
    public async Task A_backup_is_verified_and_can_be_brought_up_to_date()
    {
        for (int again = 0; again < 2; again++)
        {
            (int status, string output, _) = await CommandLine.RunAsync("backup", "--out", In("copy"), "--data", In("data"));
            Assert.Equal(0, status);
            Assert.Contains("8 runs, journal, captures and database agree", output, StringComparison.Ordinal);
        }

        Assert.Equal(0, (await CommandLine.RunAsync("report", "fan", "--out", In("copy.html"), "--data", In("copy"))).Status);
    }

    [Theory]
    [InlineData("another folder", "backup", "--out", "data")]
    [InlineData("no study fun", "export", "fun", "--out", "new")]
    [InlineData("not empty", "export", "fan", "--out", "data")]
    [InlineData("expected parquet or csv", "export", "fan", "--out", "new", "--traces", "xls")]
    [InlineData("no such folder", "import", "nowhere")]
    [InlineData("no data package", "import", "data")]
    [InlineData("expected page", "pictures", "fan", "--out", "new", "--style", "poster")]
    [InlineData("expected svg or png", "pictures", "fan", "--out", "new", "--format", "gif")]
    public async Task What_is_wrong_is_told_with_what_was_expected(string message, params string[] arguments)
    {
        string[] typed = [.. arguments.Select(argument => argument is "new" or "data" or "nowhere" ? In(argument) : argument), "--data",
            In("data")];
        (int status, _, string said) = await CommandLine.RunAsync(typed);
        Assert.Equal(2, status);
        Assert.Contains(message, said, StringComparison.Ordinal);
    }

    private static void Fill(RigArchive archive)
    {
        Print[] prints = [.. new[] { "fan off", "fan on" }.Select(fan => Print.Of(fan[4..], new GroupKey("Alder", fan, 210)))];
        Specimen[] specimens = [.. Enumerable.Range(0, 8).Select(i => new Specimen
        {
            Id = $"A{i}",
            PrintId = prints[i / 4].Id,
            Setting = 210,
            Order = i + 1,
            Section = new SectionMeasurement { AreaSquareMillimetres = 16, AreaStandardUncertaintySquareMillimetres = 0.1 },
        })];
        archive.Studies.Save(
            new Core.Specimens.Study
            {
                Id = "fan",
                Name = "Fan",
                CreatedAt = DateTimeOffset.UnixEpoch,
                SettingUnit = "°C",
                Prints = prints,
                Specimens = specimens
            }, "new");
        archive.Calibrations.Save(new CalibrationRecord
        {
            Id = "c1",
            DeviceId = "00112233445566aa",
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.UnixEpoch.AddYears(1),
            Curve = new ForceCurve([1e-3]),
            GreatestReferenceNewtons = 900,
        });
        for (int i = 0; i < specimens.Length; i++)
        {
            double strength = (i < 4 ? 30 : 40) + (i % 4);
            var head = new PullHead
            {
                RunId = Guid.CreateVersion7(DateTimeOffset.UnixEpoch.AddSeconds(i)).ToString(),
                StudyId = "fan",
                SpecimenId = specimens[i].Id,
                SequenceId = "one",
                CalibrationId = "c1",
                StartedAt = DateTimeOffset.UnixEpoch.AddSeconds(i),
                Settings = new PullSettings(),
                Device = new RigDevice("00112233445566aa", "bench", 1, true),
                ZeroCounts = 500,
                NoiseCounts = 2,
                IntervalSeconds = 0.0125,
            };
            var pull = new PullRecord
            {
                Head = head,
                Ending = PullEnding.Broken,
                Reason = Sentence.None,
                EndedAt = head.StartedAt.AddSeconds(4),
                Trace = new RawTrace
                {
                    Samples =
                        [.. Enumerable.Range(0, 300)
                        .Select(n => new RawSample(n, n * 12_500L, 500 + (n < 80 ? n % 3 : n < 240 ? (n - 80) * 3000 : n % 3), n))],
                    IntervalSeconds = 0.0125,
                },
            };
            archive.Runs.Store(
                new Run
                {
                    Head = head,
                    Ending = PullEnding.Broken,
                    EndedAt = pull.EndedAt,
                    RevisedAt = pull.EndedAt,
                    Reading = new TraceReading { Ending = PullEnding.Broken, PeakForceNewtons = strength * 16, BreakTimeSeconds = 2.99 },
                    Strength = new StrengthResult
                    {
                        Megapascals = strength,
                        StandardUncertaintyMegapascals = 0.3,
                        RelativeComparisonUncertaintyMegapascals = 0.2,
                        AreaSquareMillimetres = 16,
                        AreaStandardUncertaintySquareMillimetres = 0.1,
                        SectionBasis = "area as entered",
                    },
                },
                pull,
                []);
        }
    }

    private async Task<string> WithoutMoment(string name)
    {
        string html = await File.ReadAllTextAsync(In(name), TestContext.Current.CancellationToken);
        // When it was written, and the numbers by which the drawing library counts its clip paths.
        html = System.Text.RegularExpressions.Regex.Replace(html, "<dt>report written</dt><dd>[^<]*</dd>", "");
        return System.Text.RegularExpressions.Regex.Replace(html, "cl_[0-9a-f]+", "cl");
    }

    private string In(params string[] names) => Path.Combine([_folder, .. names]);
}
