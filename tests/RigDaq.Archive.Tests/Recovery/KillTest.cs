using System.Diagnostics;
using System.Globalization;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Faults;
using RigDaq.Core.Pulls;

namespace RigDaq.Archive.Tests.Recovery;

public sealed class KillTest : IDisposable
{
    private static readonly int Kills = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? 200 : 8;
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Nothing_that_was_acknowledged_is_lost_when_the_program_is_killed()
    {
        var random = new Random(20261102);
        var acknowledged = new List<string>();
        for (int kill = 0; kill < Kills; kill++)
        {
            using Process child = ChildProcess.Start("store", _folder.Path);
            int after = random.Next(1, 60);
            await KillAfter(child, after, line => acknowledged.Add(line.Split(' ')[1]), "stored ", random);
            using var archive = Open();
            var kept = archive.Runs.Latest(int.MaxValue).Select(run => run.Head.RunId).ToHashSet();
            Assert.All(acknowledged, runId => Assert.Contains(runId, kept));
            Assert.Empty(archive.Verify());
            // No run without its trace, no message without its run.
            Assert.All(kept, runId => Assert.Equal(400, archive.Runs.FindPull(runId)!.Trace.Samples.Count));
            Assert.Equal(2 * kept.Count, archive.Outbox.Count);
            // What was not acknowledged is either a stored run or a capture that becomes one.
            Assert.InRange(archive.Captures.FindUnfinished().Count, 0, kill + 1);
        }

        Assert.True(acknowledged.Count >= Kills);
    }

    [Fact]
    public async Task A_pull_killed_in_the_middle_is_found_with_every_sample_that_was_appended()
    {
        using Process child = ChildProcess.Start("pull", _folder.Path);
        int appended = 0;
        string runId = "";
        await KillAfter(
            child,
            300,
            line => (appended, runId) = (int.Parse(line.Split(' ')[1], CultureInfo.InvariantCulture), line.Split(' ')[2]),
            "appended ",
            new Random(1));
        using (var archive = Open())
        {
            PullRecord pull = Assert.Single(archive.Captures.FindUnfinished());
            Assert.Equal(runId, pull.Head.RunId);
            Assert.Equal(PullEnding.Interrupted, pull.Ending);
            Assert.True(pull.Trace.Samples.Count >= appended);
            Assert.Equal(Example.Samples(40_000).Take(pull.Trace.Samples.Count), pull.Trace.Samples);
            archive.Runs.Store(Example.Run(pull), pull, []);
            Assert.Empty(archive.Captures.FindUnfinished());
        }

        using var again = Open();
        Assert.Empty(again.Captures.FindUnfinished());
        Assert.Equal(PullEnding.Interrupted, again.Runs.Find(runId)!.Ending);
    }

    [Fact]
    public async Task A_second_process_is_told_that_the_folder_is_in_use()
    {
        using var archive = Open();
        using Process child = ChildProcess.Start("open", _folder.Path);
        string said = await child.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await child.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(1, child.ExitCode);
        Assert.Contains("in use by another RigDaq", said, StringComparison.Ordinal);
        ArchiveException here = Assert.Throws<ArchiveException>(Open);
        Assert.Contains(_folder.Path, here.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_full_disk_is_an_error_and_loses_nothing_that_was_acknowledged()
    {
        // 4,000 kB for any one file: the database's log meets it after some dozen runs.
        using Process child = ChildProcess.Start("store", _folder.Path, largestFileKilobytes: 4000);
        var acknowledged = new List<string>();
        string last = "";
        while (await child.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line)
        {
            last = line;
            if (line.StartsWith("stored ", StringComparison.Ordinal)) acknowledged.Add(line[7..]);
        }

        await child.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(1, child.ExitCode);
        Assert.StartsWith("IOException: ", last, StringComparison.Ordinal);
        Assert.True(acknowledged.Count > 5);
        using var archive = Open();
        var kept = archive.Runs.Latest(int.MaxValue).Select(run => run.Head.RunId).ToHashSet();
        Assert.All(acknowledged, runId => Assert.Contains(runId, kept));
        Assert.Empty(archive.Verify());
    }

    private static async Task KillAfter(Process child, int lines, Action<string> heard, string start, Random random)
    {
        int count = 0;
        while (await child.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line)
        {
            if (!line.StartsWith(start, StringComparison.Ordinal)) continue;
            heard(line);
            if (++count != lines) continue;
            // Wall time on purpose: the kill is to fall anywhere within a write, not just after one.
            await Task.Delay(random.Next(0, 6), TestContext.Current.CancellationToken);
            child.Kill();
        }

        await child.WaitForExitAsync(TestContext.Current.CancellationToken);
    }

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, NullLogger.Instance);
}
