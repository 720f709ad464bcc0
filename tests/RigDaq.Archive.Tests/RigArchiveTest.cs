using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Storage;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Text;

namespace RigDaq.Archive.Tests;

public sealed class RigArchiveTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly FakeTimeProvider _time = new(Example.Start);
    private RigArchive _archive;

    public RigArchiveTest() => _archive = Open();

    public void Dispose()
    {
        _archive.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public void A_run_comes_back_with_its_trace_after_a_restart()
    {
        PullRecord pull = Example.Pull(Example.Head(1), 5000);
        Run run = Example.Run(pull);
        _archive.Runs.Store(run, pull, Example.Messages(pull.Head));
        Restart();
        Same.Records(run, _archive.Runs.Find(run.Head.RunId)!);
        Same.Pulls(pull, _archive.Runs.FindPull(run.Head.RunId));
        Assert.Null(_archive.Runs.Find(Guid.NewGuid().ToString()));
        Assert.Null(_archive.Runs.FindPull(Guid.NewGuid().ToString()));
    }

    [Fact]
    public void A_trace_of_any_length_fits()
    {
        foreach (int samples in new[] { 0, 1, TraceContent.SamplesAPiece + 1 })
        {
            PullRecord pull = Example.Pull(Example.Head(samples), samples);
            _archive.Runs.Store(Example.Run(pull), pull, []);
            Same.Pulls(pull, _archive.Runs.FindPull(pull.Head.RunId));
        }
    }

    [Fact]
    public void Storing_the_same_run_again_changes_nothing()
    {
        PullRecord pull = Example.Pull(Example.Head(1));
        Run run = Example.Run(pull);
        for (int i = 0; i < 3; i++) _archive.Runs.Store(run, pull, Example.Messages(pull.Head));
        Assert.Equal(2, _archive.Outbox.Count);
        Assert.Single(_archive.Runs.Revisions(run.Head.RunId));
    }

    [Fact]
    public void Storing_another_content_under_the_same_id_is_refused()
    {
        PullRecord pull = Example.Pull(Example.Head(1));
        Run run = Example.Run(pull);
        _archive.Runs.Store(run, pull, []);
        Assert.Throws<ArchiveConflictException>(() => _archive.Runs.Store(run with { Ending = PullEnding.SlippedOut }, pull, []));
        Same.Records(run, _archive.Runs.Find(run.Head.RunId)!);
        // And the archive goes on.
        Example.Store(_archive, 2);
    }

    [Fact]
    public void Revisions_are_added_and_the_first_version_stays()
    {
        Run first = Example.Store(_archive, 1);
        Run second = first with { Revision = 1, RevisionReason = "width measured again", RevisedAt = Example.Start.AddDays(1) };
        Run third = second with
        { Revision = 2, RevisionReason = "left out", Void = new RunVoid(VoidKind.Slip, "slid", Example.Start.AddDays(2)) };
        _archive.Runs.Revise(second, []);
        _archive.Runs.Revise(second, []);
        _archive.Runs.Revise(third, Example.Messages(first.Head));
        Restart();
        Same.Records([first, second, third], _archive.Runs.Revisions(first.Head.RunId));
        Same.Records(third, _archive.Runs.Find(first.Head.RunId)!);
        Same.Records([third], _archive.Runs.OfStudy("alder-fan"));
        Assert.Equal(4, _archive.Outbox.Count);
    }

    [Fact]
    public void A_revision_out_of_turn_or_of_nothing_is_refused()
    {
        Run first = Example.Store(_archive, 1);
        Assert.Throws<ArchiveConflictException>(() => _archive.Runs.Revise(first with { Revision = 2 }, []));
        Assert.Throws<ArchiveConflictException>(() => _archive.Runs.Revise(first with { Head = Example.Head(9), Revision = 1 }, []));
        Assert.Throws<ArchiveConflictException>(() => _archive.Runs.Revise(first with { Reason = Sentence.Verbatim("edited") }, []));
        Assert.Single(_archive.Runs.Revisions(first.Head.RunId));
    }

    [Fact]
    public void Lists_are_in_the_order_that_was_asked_for()
    {
        int[] order = [5, 1, 4, 2, 3];
        Run[] runs = [.. order.Select(number => Example.Store(_archive, number, study: number == 4 ? "birch" : "alder-fan"))];
        Assert.Equal(["A1-1", "A1-2", "A1-3", "A1-5"], _archive.Runs.OfStudy("alder-fan").Select(run => run.Head.SpecimenId));
        Assert.Equal(["A1-5", "A1-4", "A1-3"], _archive.Runs.Latest(3).Select(run => run.Head.SpecimenId));
        Assert.Equal(runs.Length, _archive.Runs.Latest(100).Count);
        Assert.Empty(_archive.Runs.Latest(0));
        // An id is compared byte for byte.
        Assert.Empty(_archive.Runs.OfStudy("Alder-Fan"));
    }

    [Fact]
    public void Studies_and_calibrations_come_back_and_replace_themselves()
    {
        _archive.Studies.Save(Example.Study(), "new");
        _archive.Studies.Save(Example.Study() with { Name = " spaces stay ", ReferenceCondition = "" }, "renamed");
        _archive.Studies.Save(Example.Study("later") with { CreatedAt = Example.Start.AddDays(1) }, "new");
        _archive.Calibrations.Save(Example.Calibration());
        _archive.Calibrations.Save(Example.Calibration("calibration-2") with { AcceptedAt = Example.Start.AddHours(1) });
        _archive.Calibrations.Save(Example.Calibration("other") with { DeviceId = "ff" });
        Restart();
        Assert.Equal(["later", "alder-fan"], _archive.Studies.All().Select(study => study.Id));
        Same.Records(Example.Study() with { Name = " spaces stay ", ReferenceCondition = "" }, _archive.Studies.Find("alder-fan")!);
        Assert.Equal(["calibration-2", "calibration-1"], _archive.Calibrations.OfDevice("00112233445566aa")
            .Select(calibration => calibration.Id));
        Same.Records(Example.Calibration(), _archive.Calibrations.Find("calibration-1")!);
        Assert.Null(_archive.Studies.Find("none"));
        Assert.Null(_archive.Calibrations.Find("none"));
    }

    [Fact]
    public void Messages_wait_in_order_until_they_are_taken()
    {
        Run first = Example.Store(_archive, 1);
        Run second = Example.Store(_archive, 2);
        var waiting = _archive.Outbox.Pending(10);
        Assert.Equal([$"runs/{first.Head.RunId}", "last", $"runs/{second.Head.RunId}", "last"], waiting.Select(row => row.Message.Topic));
        Assert.Equal("{\"n\":1}"u8.ToArray(), waiting[0].Message.Payload);
        Assert.False(waiting[0].Message.Retain);
        Assert.True(waiting[1].Message.Retain);
        _archive.Outbox.Complete(waiting[0].Number);
        _archive.Outbox.Complete(waiting[0].Number);
        Assert.Equal(3, _archive.Outbox.Count);
        Restart();
        Assert.Equal(3, _archive.Outbox.Count);
        Assert.Equal(waiting[1].Number, _archive.Outbox.Pending(1)[0].Number);
        Assert.Empty(_archive.Outbox.Pending(0));
    }

    [Fact]
    public void A_number_of_a_message_is_never_given_twice()
    {
        Example.Store(_archive, 1);
        long last = _archive.Outbox.Pending(10)[^1].Number;
        foreach (var row in _archive.Outbox.Pending(10)) _archive.Outbox.Complete(row.Number);
        Restart();
        Example.Store(_archive, 2);
        Assert.True(_archive.Outbox.Pending(1)[0].Number > last);
    }

    [Fact]
    public void Ids_that_could_not_be_kept_are_refused()
    {
        PullRecord pull = Example.Pull(Example.Head(1) with { RunId = "../../etc/passwd" });
        Assert.Throws<ArgumentException>(() => _archive.Runs.Store(Example.Run(pull), pull, []));
        Assert.Throws<ArgumentException>(() => _archive.Captures.Begin(pull.Head));
        Assert.Throws<RefusalException>(() => _archive.Studies.Save(Example.Study(new string('x', 101)), ""));
        Assert.Throws<RefusalException>(() => _archive.Calibrations.Save(Example.Calibration(" ")));
    }

    [Fact]
    public async Task Readers_and_writers_at_the_same_time_get_right_answers()
    {
        const int Runs = 60;
        var stored = new System.Collections.Concurrent.ConcurrentDictionary<string, string>();
        using var done = new CancellationTokenSource();
        Task[] readers = [.. Enumerable.Range(0, 4).Select(reader => Task.Run(() =>
        {
            int wrong = 0;
            while (!done.IsCancellationRequested)
            {
                foreach (var (runId, text) in stored)
                {
                    if (RecordText.Of(_archive.Runs.Find(runId)) != text) wrong++;
                    if (_archive.Runs.FindPull(runId)!.Trace.Samples.Count != 400) wrong++;
                }

                if (_archive.Runs.OfStudy("alder-fan").Count < stored.Count - 2) wrong++;
            }

            Assert.Equal(0, wrong);
        }))];
        await Parallel.ForAsync(0, Runs, new ParallelOptions { MaxDegreeOfParallelism = 2 }, (number, _) =>
        {
            Run run = Example.Store(_archive, number);
            stored[run.Head.RunId] = RecordText.Of(run);
            return ValueTask.CompletedTask;
        });
        await done.CancelAsync();
        await Task.WhenAll(readers);
        Assert.Equal(Runs, _archive.Runs.OfStudy("alder-fan").Count);
    }

    [Fact]
    public void Who_has_a_message_that_waits_for_others_is_known_after_a_restart()
    {
        for (int number = 1; number <= 2; number++) Example.Store(_archive, number);
        (long first, long second) = (_archive.Outbox.Pending(10)[0].Number, _archive.Outbox.Pending(10)[^1].Number);
        Assert.NotEqual(first, second);
        _archive.Outbox.Reach(first, ["", "sheet"]);
        _archive.Outbox.Reach(second + 1, ["sheet"]); // Gone meanwhile.
        Restart();
        Assert.Equal(["", "sheet"], Assert.Single(_archive.Outbox.Reached()).Value);
        Assert.Equal(first, Assert.Single(_archive.Outbox.Reached()).Key);
        _archive.Outbox.Complete(first);
        Assert.Empty(_archive.Outbox.Reached());
    }

    private RigArchive Open() => new(_folder.Path, _time, NullLogger.Instance);

    private void Restart()
    {
        _archive.Dispose();
        _archive = Open();
    }
}
