using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Text;
using RigDaq.Publishing.Messages;

namespace RigDaq.Daemon.Recording;

/// <summary>
/// Makes a run of an ended pull and stores it together with its message in one transaction. What is stored survives a power
/// cut; the message leaves when a broker takes it.
/// </summary>
internal sealed class PullRecorder(
    IRunArchive runs, IStudyArchive studies, ICalibrationArchive calibrations, ICalibrationDiary diary, TimeProvider time, IComplianceArchive? compliances = null) : IPullRecorder
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
        CalibrationRecord? calibration = calibrations.Find(pull.Head.CalibrationId);
        Run run = RunCalculation.Calculate(pull, study, calibration, time.GetUtcNow(), ComplianceOf(pull.Head, calibration)?.ToCompliance());
        FreezePlan(study);
        runs.Store(run, pull, [RunMessage.From(run, study).ToOutbox()]);
        NoteOverload(run, calibration);
        Stored?.Invoke(run);
        return run;
    }

    /// <summary>The machine's give, its forces read by the run's calibration where that can be had.</summary>
    private ComplianceRecord? ComplianceOf(PullHead head, CalibrationRecord? calibration)
    {
        if (compliances?.At(head.Device.Id, head.StartedAt, head.CalibrationId) is not { } compliance) return null;
        if (calibration is null) return compliance;
        try
        {
            return compliances.Under(compliance, calibration, calibrations.Find, runs.FindPull, time.GetUtcNow());
        }
        catch (ArgumentException)
        {
            // As it was measured, which the list of compliances says: better than with the machine's give left in.
            return compliance;
        }
    }

    /// <summary>
    /// Comparisons and margin are chosen before results are seen: the first pull freezes its study's plan. Before the run is stored, so
    /// that a failure leaves nothing half done.
    /// </summary>
    private void FreezePlan(Study? study)
    {
        if (study is { PlanFrozenAt: null }) studies.Change(study.Id, now => StudyCorrections.Freeze(now, time.GetUtcNow()), TerminalText.ServePlanFrozen);
    }

    /// <summary>A cell that was loaded beyond its full scale is no longer the cell that was calibrated.</summary>
    private void NoteOverload(Run run, CalibrationRecord? calibration)
    {
        if (calibration?.Uncertainty?.Inputs.FullScaleNewtons is not { } fullScale || run.Reading?.RawPeakForceNewtons is not { } greatest || greatest <= fullScale) return;
        string text = TerminalText.ServeOverload(run.Head.SpecimenId, greatest, fullScale);
        diary.Add(new CalibrationInvalidation(time.GetUtcNow(), run.Head.Device.Id, InvalidationKind.Overload, text));
    }
}
