using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Recording;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Recording;

/// <summary>What is left without a run by a crash, one pull of which no run can be computed.</summary>
public sealed class UnfinishedPullsTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-unfinished-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_capture_that_cannot_be_computed_is_set_aside_and_said_and_the_others_become_runs()
    {
        using var archive = new RigArchive(_folder, TimeProvider.System, NullLogger.Instance);
        PulledStudy.Fill(archive, specimensAPrint: 1, loadingSeconds: 0.5);
        PullHead head = archive.Runs.Latest(1)[0].Head;
        string good = Guid.CreateVersion7().ToString(), bad = Guid.CreateVersion7().ToString();
        DetectionSettings never = head.Settings.Detection with { RemainingPercent = 0 };
        using (ICaptureWriter writer = archive.Captures
            .Begin(head with { RunId = bad, Settings = head.Settings with { Detection = never } }))
            writer.Append([.. archive.Runs.FindPull(head.RunId)!.Trace.Samples]);
        archive.Captures.Begin(head with { RunId = good }).Dispose();
        var said = new List<string>();
        var recorder = new PullRecorder(archive, TimeProvider.System, NullLogger.Instance);
        UnfinishedPulls.Store(archive, recorder, words => said.Add(words));
        Assert.NotNull(archive.Runs.Find(good));
        Assert.Null(archive.Runs.Find(bad));
        string aside = Assert.Single(Directory.EnumerateFiles(Path.Combine(_folder, "captures"), bad + "*.aside-*"));
        Assert.Contains(said, text => text.Contains(aside, StringComparison.Ordinal));
        said.Clear();
        UnfinishedPulls.Store(archive, recorder, words => said.Add(words));
        Assert.Empty(said);
    }
}
