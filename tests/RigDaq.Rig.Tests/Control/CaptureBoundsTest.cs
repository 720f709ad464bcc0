using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Rig.Control;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Control;

/// <summary>What is kept before a pull and what of it waits for the disk: at each bound and one beyond it.</summary>
public sealed class CaptureBoundsTest
{
    private static readonly TimeSpan HangMax = TimeSpan.FromSeconds(10);

    [Theory]
    [InlineData(1)]
    [InlineData(50)]
    public void SamplesMax_from_before_a_pull_are_kept_and_of_more_the_older_half_goes(int block)
    {
        var before = new PreRoll<int>();
        for (int i = 0; i < PreRoll.SamplesMax; i += block) before.Add([.. Enumerable.Range(i, block)]);
        Assert.Equal(PreRoll.SamplesMax, before.Kept.Length);
        Assert.Equal(0, before.Kept[0]);
        before.Add([PreRoll.SamplesMax]);
        Assert.Equal((PreRoll.SamplesMax / 2) + 1, before.Kept.Length);
        Assert.Equal((PreRoll.SamplesMax / 2, PreRoll.SamplesMax), (before.Kept[0], before.Kept[^1]));
        before.Clear();
        Assert.True(before.Kept.IsEmpty);
    }

    [Fact]
    public async Task ChunksMax_chunks_wait_for_the_disk_and_one_more_is_told_at_once()
    {
        using var disk = new ManualResetEventSlim();
        using var taken = new ManualResetEventSlim();
        var journal = new StandingDisk(disk, taken);
        PullRecord pull = Pull();
        var capture = new PullCapture(journal, pull.Head);
        await capture.BeginAsync(_ => { });
        // One is in the disk's hands, the others wait: samples and values of a channel in the same queue.
        Assert.True(capture.TryAppend([new RawSample()]));
        Assert.True(taken.Wait(HangMax, TestContext.Current.CancellationToken));
        for (int i = 0; i < PullCapture.ChunksMax; i++)
            Assert.True(i % 2 == 0 ? capture.TryAppend([new RawSample()]) : capture.TryAppend(0, [new ChannelSample()]));
        Assert.False(capture.TryAppend([new RawSample()]));
        Assert.False(capture.TryAppend(0, [new ChannelSample()]));
        Assert.False(capture.HasWritten);
        disk.Set();
        await capture.CompleteAsync(pull).WaitAsync(HangMax, TestContext.Current.CancellationToken);
        Assert.True(capture.HasWritten);
        Assert.Equal(PullCapture.ChunksMax + 1, journal.Written);
    }

    private static PullRecord Pull() => new()
    {
        Head = AnyPull.Head,
        Ending = PullEnding.Stopped,
        Reason = Sentence.None,
        EndedAt = DateTimeOffset.UnixEpoch,
        Trace = new RawTrace { Samples = [], IntervalSeconds = 0.0125 },
    };

    /// <summary>A disk that takes a chunk and stands.</summary>
    private sealed class StandingDisk(ManualResetEventSlim goesOn, ManualResetEventSlim taken) : ICaptureJournal, ICaptureWriter
    {
        public int Written { get; private set; }

        public ICaptureWriter Begin(PullHead head) => this;

        public IReadOnlyList<PullRecord> FindUnfinished() => [];

        public void Append(ReadOnlySpan<RawSample> samples) => Take();

        public void AppendChannel(int channel, ReadOnlySpan<ChannelSample> values) => Take();

        public void Complete(PullRecord pull)
        {
        }

        public void Dispose()
        {
        }

        private void Take()
        {
            taken.Set();
            goesOn.Wait(HangMax);
            Written++;
        }
    }
}
