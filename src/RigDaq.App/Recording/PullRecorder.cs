using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Messages;
using RigDaq.Text;

namespace RigDaq.App.Recording;

/// <summary>
/// Makes a run of an ended pull and stores it together with its message in one transaction. What is stored survives a power
/// cut; the message leaves when a broker takes it. Nothing here reads a clock but for what is not the run's: the same pull may be
/// recorded again after a failure at any step, and is stored once.
/// </summary>
internal sealed class PullRecorder(RigArchive archive, TimeProvider time, ILogger log) : IPullRecorder
{
    /// <summary>A run was stored. A listener that fails is logged: the run is stored all the same.</summary>
    public event Action<Run>? Stored;

    /// <inheritdoc/>
    // Computing and the fsync take milliseconds: not on the rig's control loop.
    public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation) => Task.Run(() => Record(pull), cancellation);

    /// <summary>Computes and stores at once; what a try before has stored stays as it is.</summary>
    public Run Record(PullRecord pull)
    {
        Run run = StoredBefore(pull) ?? Store(pull);
        Tell(run);
        return run;
    }

    private Run Store(PullRecord pull)
    {
        Study? study = archive.Studies.Find(pull.Head.StudyId);
        CalibrationRecord? calibration = archive.Calibrations.Find(pull.Head.CalibrationId);
        Run run = RunCalculation.Calculate(pull, study, calibration, pull.EndedAt, ComplianceOf(pull.Head, calibration)?.ToCompliance());
        // What goes with the run comes before it: a failure leaves nothing half done that nobody would do again.
        FreezePlan(study, pull.Head.StartedAt);
        NoteOverload(run, calibration);
        archive.Runs.Store(run, pull, [RunMessage.From(run, study).ToOutbox()]);
        return run;
    }

    /// <summary>A try before may have stored the run and failed only after that. A study or a calibration can have changed since.</summary>
    private Run? StoredBefore(PullRecord pull) =>
        archive.Runs.Find(pull.Head.RunId) is { } kept && kept.Head == pull.Head && kept.Ending == pull.Ending
            && kept.EndedAt == pull.EndedAt ? kept : null;

    private void Tell(Run run)
    {
        foreach (Action<Run> listener in Stored?.GetInvocationList().Cast<Action<Run>>() ?? [])
        {
            try
            {
                listener(run);
            }
            catch (Exception e)
            {
                log.LogError(e, "A listener failed at run {Run}; the run is stored.", run.Head.RunId);
            }
        }
    }

    /// <summary>The machine's give, its forces read by the run's calibration where that can be had.</summary>
    private ComplianceRecord? ComplianceOf(PullHead head, CalibrationRecord? calibration)
    {
        if (archive.Compliances.InForceAt(head.Device.Id, head.StartedAt, head.CalibrationId) is not { } compliance) return null;
        if (calibration is null) return compliance;
        try
        {
            return archive.Compliances.Recomputed(compliance, calibration, time.GetUtcNow());
        }
        catch (Exception e) when (e is RefusalException or ArgumentException)
        {
            // As it was measured, which the list of compliances says: better than with the machine's give left in.
            return compliance;
        }
    }

    /// <summary>Comparisons and margin are chosen before results are seen: the first pull freezes its study's plan. Before the run is
    /// stored, so that a failure leaves nothing half done.</summary>
    private void FreezePlan(Study? study, DateTimeOffset at)
    {
        if (study is not { PlanFrozenAt: null }) return;
        archive.Studies.Change(study.Id, now => StudyCorrections.Freeze(now, at), AppText.ServePlanFrozen);
    }

    /// <summary>A cell that was loaded beyond its full scale is no longer the cell that was calibrated.</summary>
    // Stamped by the pull: noted again after a failure it is the same note.
    private void NoteOverload(Run run, CalibrationRecord? calibration)
    {
        if (calibration?.Uncertainty?.Inputs.FullScaleNewtons is not { } fullScale || run.Reading?.RawPeakForceNewtons is not { } greatest
            || greatest <= fullScale) return;
        Sentence text = AppText.ServeOverload(run.Head.SpecimenId, greatest, fullScale);
        archive.Diary.Add(new CalibrationInvalidation(run.EndedAt, run.Head.Device.Id, InvalidationKind.Overload, text));
    }
}
