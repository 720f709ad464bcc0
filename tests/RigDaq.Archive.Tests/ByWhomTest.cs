using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Packages;
using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests;

/// <summary>By whom something was kept goes with it: through a restart, a rebuild and a package, unless it is left out of that.</summary>
public sealed class ByWhomTest : IDisposable
{
    private const string Id = "alder-fan";
    private static readonly By Ida = new("Ida", By.Page), Noor = new("Noor", "192.0.2.7");

    private readonly TemporaryFolder _folder = new();
    private By? _who;

    public ByWhomTest()
    {
        using RigArchive archive = Open("data");
        _who = Ida;
        archive.Studies.Save(Example.Study(Id), "made");
        archive.Calibrations.Save(Example.Calibration() with { Circumstances = new() { Person = "K. Lane" } });
        _who = null;
        PullRecord pull = Example.Pull(Example.Head(1, Id), 300);
        archive.Runs.Store(Example.Run(pull), pull, []);
        _who = Noor;
        archive.Studies.Change(Id, study => study with { Name = "The fan" }, "clearer");
        archive.Runs.Revise(RunCorrections.Void(archive.Runs.OfStudy(Id).Single(), VoidKind.GripFailure, "at the jaw", Example.Start), []);
        // What the program corrects by itself is nobody's, though it is made of what was somebody's.
        _who = null;
        Run excluded = archive.Runs.OfStudy(Id).Single();
        archive.Runs.Revise(excluded with { Revision = excluded.Revision + 1, RevisionReason = "read again" }, []);
    }

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void It_outlives_a_restart_and_a_rebuild(bool rebuilt)
    {
        if (rebuilt)
            RigArchive.Rebuild(_folder.In("data"), TimeProvider.System, NullLogger.Instance,
                (_, _) => throw new InvalidOperationException());
        using RigArchive archive = Open("data");
        AssertKept(archive, Ida, Noor);
    }

    [Fact]
    public async Task A_package_carries_it_and_the_importer_does_not_take_its_place()
    {
        await WriteAsync(new PackageOptions());
        using RigArchive other = Open("other");
        _who = new By("Somebody else", By.Terminal);
        await StudyPackage.ReadAsync(other, _folder.In("package"));
        AssertKept(other, Ida, Noor);
        string[] history = File.ReadAllLines(_folder.In("package", "history.csv"));
        Assert.EndsWith("by_name,by_from", history[0], StringComparison.Ordinal);
        Assert.Contains(history, line => line.EndsWith("Noor,192.0.2.7", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_package_without_names_holds_none_and_can_follow_one_with_them()
    {
        await WriteAsync(new PackageOptions { Names = false });
        foreach (string file in Directory.GetFiles(_folder.In("package")).Where(file => Path.GetExtension(file) != ".parquet"))
        {
            string text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
            Assert.DoesNotContain("Ida", text, StringComparison.Ordinal);
            Assert.DoesNotContain("K. Lane", text, StringComparison.Ordinal);
            Assert.DoesNotContain("192.0.2.7", text, StringComparison.Ordinal);
        }

        using RigArchive other = Open("other");
        await StudyPackage.ReadAsync(other, _folder.In("package"));
        AssertKept(other, null, null);
        // Here everything is there already, with names.
        using RigArchive here = Open("data");
        await StudyPackage.ReadAsync(here, _folder.In("package"));
        AssertKept(here, Ida, Noor);
    }

    [Fact]
    public async Task A_name_that_a_terminal_would_obey_is_refused_with_the_package()
    {
        await WriteAsync(new PackageOptions());
        string runs = _folder.In("package", "runs.jsonl");
        string text = await File.ReadAllTextAsync(runs, TestContext.Current.CancellationToken);
        text = text.Replace("Noor", "\\u001b[2J", StringComparison.Ordinal);
        await File.WriteAllTextAsync(runs, text, TestContext.Current.CancellationToken);
        using RigArchive other = Open("other");
        await Assert.ThrowsAnyAsync<Exception>(() => StudyPackage.ReadAsync(other, _folder.In("package")));
        Assert.Empty(other.Studies.All());
    }

    [Theory]
    [InlineData(By.NameMax, By.FromMax, true)]
    [InlineData(By.NameMax + 1, 1, false)]
    [InlineData(1, By.FromMax + 1, false)]
    public void Name_and_place_have_their_bounds(int name, int from, bool isWithin) =>
        Assert.Equal(isWithin, new By(new string('n', name), new string('f', from)).IsWithinBounds());

    private static void AssertKept(RigArchive archive, By? made, By? changed)
    {
        Assert.Equal([made, changed], archive.Studies.Versions(Id).Select(version => version.By));
        string runId = archive.Runs.OfStudy(Id).Single().Head.RunId;
        Assert.Equal([null, changed, null], archive.Runs.Revisions(runId).Select(run => run.By));
        Assert.Equal(made, archive.Calibrations.Find(Example.Calibration().Id)?.By);
    }

    private async Task WriteAsync(PackageOptions options)
    {
        using RigArchive archive = Open("data");
        await StudyPackage.WriteAsync(archive, Id, _folder.In("package"), options);
    }

    private RigArchive Open(string name) => new(_folder.In(name), TimeProvider.System, NullLogger.Instance) { Who = () => _who };
}
