using RigDaq.Core.Signal;
using RigDaq.Core.Strength;

namespace RigDaq.Daemon.Hosting;

/// <summary>For commands that only look at a rig: nothing is pulled, so nothing may be captured or recorded.</summary>
internal sealed class NothingPulled : ICaptureJournal, IPullRecorder
{
    private const string Words = "This command pulls nothing.";

    public ICaptureWriter Begin(PullHead head) => throw new IOException(Words);

    public IReadOnlyList<PullRecord> FindUnfinished() => [];

    public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation) => throw new IOException(Words);
}
