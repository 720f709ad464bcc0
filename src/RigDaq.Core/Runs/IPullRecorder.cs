using RigDaq.Core.Pulls;

namespace RigDaq.Core.Runs;

/// <summary>Makes a run of a pull and keeps it. The rig waits for this before it goes on to the next specimen.</summary>
public interface IPullRecorder
{
    /// <summary>Computes and stores; the run survives a power cut when this completes.</summary>
    /// <exception cref="IOException">It could not be kept: the sequence is to be held. The capture still has it.</exception>
    Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation);
}
