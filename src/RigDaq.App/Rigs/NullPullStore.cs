using RigDaq.App.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.App.Rigs;

/// <summary>For commands that only look at a rig: nothing is pulled, so nothing may be captured or recorded.</summary>
internal sealed class NullPullStore : ICaptureJournal, IPullRecorder
{
    public ICaptureWriter Begin(PullHead head) => throw new IOException(AppText.RigNothingPulled);

    public IReadOnlyList<PullRecord> FindUnfinished() => [];

    public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation) => throw new IOException(AppText.RigNothingPulled);
}
