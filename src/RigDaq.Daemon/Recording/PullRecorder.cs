using RigDaq.Core.Calibration;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Publishing.Messages;

namespace RigDaq.Daemon.Recording;

/// <summary>
/// Makes a run of an ended pull and stores it together with its message in one transaction. What is stored survives a power
/// cut; the message leaves when a broker takes it.
/// </summary>
internal sealed class PullRecorder(IRunArchive runs, IStudyArchive studies, ICalibrationArchive calibrations, TimeProvider time) : IPullRecorder
{
    /// <summary>A run was stored.</summary>
    public event Action<Run>? Stored;

    /// <inheritdoc/>
    // Computing and the fsync take milliseconds: not on the rig's control loop.
    public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation) => Task.Run(() => Record(pull), cancellation);

    /// <summary>Computes and stores at once.</summary>
    public Run Record(PullRecord pull)
    {
        Study? study = studies.Find(pull.Head.StudyId);
        Run run = RunCalculation.Calculate(pull, study, calibrations.Find(pull.Head.CalibrationId), time.GetUtcNow());
        runs.Store(run, pull, [RunMessage.From(run, study).ToOutbox()]);
        Stored?.Invoke(run);
        return run;
    }
}
