using System.Diagnostics;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Tests.Shared;

namespace RigDaq.Archive.Tests.Storage;

/// <summary>Whatever writes into a data folder or a backup of it makes what is its owner's alone, under the usual umask (022).</summary>
public sealed class OwnersFileTest : IDisposable
{
    private const UnixFileMode Owners = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Nothing_that_is_kept_copied_rebuilt_or_set_aside_is_open_to_others()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has other rights.");
        if (OperatingSystem.IsWindows()) return; // For the analyzer.
        Run run;
        using (RigArchive archive = Open("data"))
        {
            archive.Studies.Save(Example.Study(), "made");
            run = Example.Store(archive, 1);
            using (ICaptureWriter open = archive.Captures.Begin(Example.Head(2))) open.Append(Example.Samples(20));
            archive.Photos.Keep(run.Head.RunId, 1, TinyPicture.Jpeg());
            // While it is open: the database's log is there.
            Check("data", "runs-log.db");
            archive.Backup(_folder.In("copy"));
        }

        File.AppendAllText(_folder.In("data/journal.jsonl"), "garbage\n");
        RebuildReport rebuilt = RigArchive.Rebuild(_folder.In("data"), TimeProvider.System, NullLogger.Instance,
            (pull, _) => Example.Run(pull));
        Assert.NotEmpty(rebuilt.SetAside);
        File.Delete(_folder.In("data/runs.db"));
        using (RigArchive archive = Open("data")) Assert.NotNull(archive.Runs.FindPull(run.Head.RunId));
        Check("data", "runs.db", "journal.jsonl", "archive.json", "archive.lock", "captures", "photos");
        Check("copy", "runs.db", "journal.jsonl", "archive.json", "captures", "photos");
    }

    [Fact]
    public void A_folder_of_before_that_is_open_to_others_is_told_of_with_the_command_that_closes_it()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has other rights.");
        if (OperatingSystem.IsWindows()) return; // For the analyzer.
        using (RigArchive archive = Open("data"))
        {
            archive.Studies.Save(Example.Study(), "made");
            Assert.Null(archive.OpenToOthers);
            foreach (string one in new[] { "data", "data/journal.jsonl", "data/captures" })
            {
                string path = _folder.In(one);
                UnixFileMode mode = File.GetUnixFileMode(path);
                File.SetUnixFileMode(path, mode | UnixFileMode.GroupRead);
                Assert.Contains($"chmod -R go= '{_folder.In("data")}'", archive.OpenToOthers, StringComparison.Ordinal);
                File.SetUnixFileMode(path, mode);
            }
        }

        File.SetUnixFileMode(_folder.In("data"), Owners | UnixFileMode.OtherRead | UnixFileMode.OtherExecute);
        Assert.Contains("chmod", Assert.Single(RigArchive.Look(_folder.In("data"), TimeProvider.System).Notes), StringComparison.Ordinal);
        // What the sentence says to do does it.
        using (Process chmod = Process.Start("chmod", ["-R", "go=", _folder.In("data")])) chmod.WaitForExit();
        Assert.Empty(RigArchive.Look(_folder.In("data"), TimeProvider.System).Notes);
    }

    private RigArchive Open(string name) => new(_folder.In(name), TimeProvider.System, NullLogger.Instance);

    private void Check(string folder, params string[] expected)
    {
        if (OperatingSystem.IsWindows()) return;
        string[] all = [_folder.In(folder), .. Directory.EnumerateFileSystemEntries(_folder.In(folder), "*", SearchOption.AllDirectories)];
        foreach (string name in expected) Assert.Contains(_folder.In($"{folder}/{name}"), all);
        foreach (string path in all) Assert.True((File.GetUnixFileMode(path) & ~Owners) == 0, $"{path}: {File.GetUnixFileMode(path)}");
        Assert.False(new ArchiveFolder(_folder.In(folder)).IsOpenToOthers);
    }
}
