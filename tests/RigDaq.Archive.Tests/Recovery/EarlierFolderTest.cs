using System.IO.Compression;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Packages;
using RigDaq.Archive.Storage;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Tests.Recovery;

/// <summary>Folders and packages that earlier versions wrote (tests' folder Before) open with every figure that they had.</summary>
public sealed class EarlierFolderTest : IDisposable
{
    private const string Runs = "kestrel-lane-fan-20261130-142918", Plan = "two-prints";

    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_folder_of_schema_1_opens_with_its_figures_and_is_kept_aside_as_it_was()
    {
        string data = Unpack("schema-1-folder");
        byte[] journal = File.ReadAllBytes(Path.Combine(data, "journal.jsonl")),
            database = File.ReadAllBytes(Path.Combine(data, "runs.db"));
        using (RigArchive archive = Open(data))
        {
            Check(archive);
            Assert.Empty(archive.Verify());
            Assert.True(_logger.Said(LogLevel.Warning, "kept aside"));
            Assert.Equal(3, archive.SetAside.Count);
        }

        Assert.Equal(journal, File.ReadAllBytes(Directory.GetFiles(data, "journal.jsonl.aside-*").Single()));
        Assert.Equal(database, File.ReadAllBytes(Directory.GetFiles(data, "runs.db.aside-*").Single()));
        Assert.Contains("\"schema\":1", File.ReadAllText(Directory.GetFiles(data, "archive.json.aside-*").Single()),
            StringComparison.Ordinal);
        Assert.Contains($"\"schema\":{CreatedMarker.CurrentSchema}", File.ReadAllText(Path.Combine(data, "archive.json")),
            StringComparison.Ordinal);

        // The second time there is nothing to do.
        using RigArchive again = Open(data);
        Check(again);
        Assert.Empty(again.SetAside);
        Assert.Equal(3, Directory.GetFiles(data, "*.aside-*").Length);
    }

    /// <summary>As <c>study history</c> of the version that wrote it said.</summary>
    [Fact]
    public void A_folder_of_schema_2_has_every_version_of_its_studies_at_hand_and_after_a_rebuild()
    {
        string data = Unpack("schema-2-folder"), pulled = "kestrel-lane-fan-20261201-032653";
        string[] reasons = ["made", "a better name", "a wider margin", "the plan stands"];
        using (RigArchive archive = Open(data))
        {
            Assert.Equal(3, archive.SetAside.Count);
            Check(archive);
            Assert.Empty(archive.Verify());
            archive.Studies.Change("shelf", study => study with { Name = "Two weeks on the shelf" }, "it stayed longer");
        }

        using (RigArchive archive = Open(data))
        {
            Assert.Empty(archive.SetAside);
            Check(archive, "it stayed longer");
        }

        RigArchive.Rebuild(data, TimeProvider.System, NullLogger.Instance,
            (_, _) => throw new InvalidOperationException("nothing is recomputed"));
        using RigArchive rebuilt = Open(data);
        Check(rebuilt, "it stayed longer");

        void Check(RigArchive archive, params string[] further)
        {
            Assert.Equal([.. reasons, .. further], archive.Studies.Versions("shelf").Select(version => version.Reason));
            Assert.Equal(["On the shelf", "A week on the shelf"], archive.Studies.Versions("shelf").Take(2)
                .Select(version => version.Study.Name));
            Assert.Equal(DateTimeOffset.Parse("2026-12-01T03:27:05Z", System.Globalization.CultureInfo.InvariantCulture),
                archive.Studies.Versions("shelf")[1].At, TimeSpan.FromSeconds(1));
            Assert.Equal(["made by the demo", "the first pull froze the plan"],
                archive.Studies.Versions(pulled).Select(version => version.Reason));
            Assert.Equal(12, archive.Runs.OfStudy(pulled).Count);
        }
    }

    /// <summary>Means as <c>study show --json</c> of the version that wrote it said.</summary>
    [Fact]
    public void Traces_that_schema_3_packed_by_Brotli_are_read_and_the_captures_of_then_stay_as_they_were()
    {
        string data = Unpack("schema-3-folder"), pulled = "kestrel-lane-fan-20261201-070743";
        Dictionary<string, byte[]> captures = Directory.GetFiles(Path.Combine(data, "captures")).ToDictionary(file => file, File.ReadAllBytes);
        using RigArchive archive = Open(data);
        Assert.Equal(3, archive.SetAside.Count);
        Assert.Empty(archive.Verify());
        ComparisonAnswer answer = StudyComparison.Of(archive.Studies.Find(pulled)!, archive.Runs.OfStudy(pulled)).Answer!;
        Assert.Equal([28.702227786450994, 21.872965892015884, 24.885239485330096, 25.539319177178022],
            answer.Groups.Select(group => group.Mean));
        Assert.All(archive.Runs.OfStudy(pulled), run =>
        {
            Assert.Null(archive.TraceFault(run.Head.RunId));
            Assert.NotEmpty(archive.Runs.FindPull(run.Head.RunId)!.Trace.Samples);
        });
        Assert.All(captures, capture => Assert.Equal(capture.Value, File.ReadAllBytes(capture.Key)));
    }

    [Fact]
    public void A_package_of_now_is_one_that_the_version_of_before_reads() => Assert.Equal(2, DataPackageFile.RecordSchema);

    [Fact]
    public void A_long_migration_says_how_far_it_has_come()
    {
        using RigArchive archive = new(Unpack("schema-2-folder"), new SlowTime(), _logger);
        Assert.True(_logger.Said(LogLevel.Warning, "6 versions of studies by now"));
    }

    [Fact]
    public void Versions_are_found_without_the_journal()
    {
        using RigArchive archive = Open(Unpack("schema-2-folder"));
        File.WriteAllText(Path.Combine(archive.Folder, "journal.jsonl"), "");
        Assert.Equal(4, archive.Studies.Versions("shelf").Count);
    }

    [Fact]
    public void What_is_set_aside_is_a_folder_that_the_earlier_version_can_use()
    {
        string data = Unpack("schema-1-folder"), before = _folder.In("before");
        using (Open(data)) { }
        Directory.CreateDirectory(before);
        foreach (string file in Directory.GetFiles(data, "*.aside-*"))
            File.Copy(file,
                Path.Combine(before, Path.GetFileName(file)[..Path.GetFileName(file).IndexOf(".aside-", StringComparison.Ordinal)]));
        Directory.Move(Path.Combine(data, "captures"), Path.Combine(before, "captures"));
        // Opened by this version in that one's stead: everything is there, the captures' runs included.
        using RigArchive archive = Open(before);
        Check(archive);
        Assert.Empty(archive.Captures.FindUnfinished());
    }

    [Fact]
    public void A_database_of_schema_1_is_made_anew_from_its_journal_and_captures()
    {
        string data = Unpack("schema-1-folder");
        RigArchive.Rebuild(data, TimeProvider.System, NullLogger.Instance,
            (_, _) => throw new InvalidOperationException("nothing is recomputed"));
        using RigArchive archive = Open(data);
        Check(archive);
    }

    [Fact]
    public void A_migration_that_was_cut_off_before_the_marker_is_finished_at_the_next_start()
    {
        string data = Unpack("schema-1-folder"), marker = Path.Combine(data, "archive.json");
        byte[] before = File.ReadAllBytes(marker);
        using (Open(data)) { }
        File.WriteAllBytes(marker, before);
        using RigArchive archive = Open(data);
        Check(archive);
        Assert.Contains($"\"schema\":{CreatedMarker.CurrentSchema}", File.ReadAllText(marker), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("schema-1-package-runs", Runs, 2)]
    [InlineData("schema-1-package-plan", Plan, 4)]
    public async Task A_package_of_schema_1_is_read_with_every_version_and_read_again_changes_nothing(string package, string study,
        int versions)
    {
        string folder = Unpack(package);
        using RigArchive archive = Open(_folder.In("other"));
        for (int again = 0; again < 2; again++) Assert.Equal(study, (await StudyPackage.ReadAsync(archive, folder)).StudyId);
        Assert.Equal(versions, archive.Studies.Versions(study).Count);
        Assert.All(archive.Studies.Versions(study),
            version => Assert.DoesNotContain(StudyRules.Check(version.Study), finding => finding.Refused));
        if (study == Runs) CheckRuns(archive);
        else CheckPlan(archive);
    }

    /// <summary>Three seconds pass between any two looks at it.</summary>
    private sealed class SlowTime : TimeProvider
    {
        private long _now;

        public override long GetTimestamp() => _now += 3 * TimestampFrequency;
    }

    private static void Check(RigArchive archive)
    {
        CheckRuns(archive);
        CheckPlan(archive);
    }

    /// <summary>As <c>study show --json</c> of the version that wrote it said.</summary>
    private static void CheckRuns(RigArchive archive)
    {
        Study study = archive.Studies.Find(Runs)!;
        Assert.Equal(["A220off", "A220on", "B220off", "B220on"], study.Prints.Select(p => p.Id));
        Assert.All(study.Prints, p => Assert.Equal(220, Assert.Single(p.Stretches).Setting));
        Assert.All(study.Specimens, s => Assert.Equal(220, s.Setting));
        Assert.DoesNotContain(StudyRules.Check(study), finding => finding.Refused);
        ComparisonAnswer answer = StudyComparison.Of(study, archive.Runs.OfStudy(Runs)).Answer!;
        Assert.Equal([32.10628225139986, 25.456735704601876, 25.13979323148236, 23.370434632452945], Means());
        Assert.Equal(12, archive.Runs.OfStudy(Runs).Count);

        double[] Means()
            =>
            [.. study.Groups()
            .Select(key => answer.Groups.Single(g => g.Material == key.Material && g.Condition == key.Condition
            && g.Setting == key.Setting).Mean)];
    }

    private static void CheckPlan(RigArchive archive)
    {
        Study study = archive.Studies.Find(Plan)!;
        Assert.Equal(18, study.Prints.Count);
        Assert.Equal(52, study.Specimens.Count);
        Assert.Equal("open shelf", study.Prints[0].Record!.Storage.Single().Place);
        Assert.Equal(4, study.PlannedComparisons!.Count);
        Assert.Equal(4, study.Imported.Count);
        Assert.Equal(new GroupKey("Alder", "fan on", 220), study.GroupOf("I02-01"));
        Assert.DoesNotContain(StudyRules.Check(study), finding => finding.Refused);
    }

    private RigArchive Open(string folder) => new(folder, TimeProvider.System, _logger);

    private string Unpack(string name)
    {
        string folder = _folder.In(name);
        using Stream zip = typeof(EarlierFolderTest).Assembly.GetManifestResourceStream(name + ".zip")!;
        ZipFile.ExtractToDirectory(zip, folder);
        return folder;
    }
}
