using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Runs;

/// <summary>A pull under another calibration, without another break: the counts are kept for good.</summary>
public static class Recalculation
{
    /// <summary>The forces of a trace above its zero, in newtons, sample by sample.</summary>
    /// <param name="trace">The raw trace.</param>
    /// <param name="zeroCounts">The zero that was taken before the pull.</param>
    /// <param name="calibration">The calibration to read it by.</param>
    public static double[] ForcesNewtons(RawTrace trace, double zeroCounts, CalibrationRecord calibration)
    {
        var forces = new double[trace.Samples.Count];
        for (int i = 0; i < forces.Length; i++) forces[i] = calibration.Curve.Newtons(trace.Samples[i].Counts - zeroCounts);
        return forces;
    }

    /// <summary>A run read under another calibration of the same device, as a further revision; the earlier ones stay. A void and what the
    /// eye saw are kept.</summary>
    /// <param name="latest">The run's latest revision.</param>
    /// <param name="pull">Its raw pull.</param>
    /// <param name="study">Its study; null where it is not known any more.</param>
    /// <param name="calibration">The calibration to read it by.</param>
    /// <param name="now">When.</param>
    /// <param name="compliance">The machine's give; null where it was not measured.</param>
    /// <exception cref="ArgumentException">The pull is another run's, or the calibration another device's.</exception>
    public static Run Under(Run latest, PullRecord pull, Study? study, CalibrationRecord calibration, DateTimeOffset now,
        MachineCompliance? compliance = null)
    {
        if (pull.Head.RunId != latest.Head.RunId) throw new ArgumentException("The pull is another run's.", nameof(pull));
        if (calibration.DeviceId != pull.Head.Device.Id)
            throw new ArgumentException($"The calibration is for the device {calibration.DeviceId}; the pull was measured by {pull.Head.Device.Id}.", nameof(calibration));

        // The latest head: the run may have been moved to another specimen.
        var head = latest.Head with { CalibrationId = calibration.Id };
        Run computed = RunCalculation.Calculate(pull with { Head = head }, study, calibration, now, compliance);
        return latest with
        {
            Head = head,
            Reading = computed.Reading,
            Strength = computed.Strength,
            ZeroShiftNewtons = computed.ZeroShiftNewtons,
            Warnings = computed.Warnings,
            Revision = latest.Revision + 1,
            RevisionReason = Reason(latest, calibration, compliance),
            RevisedAt = now,
        };
    }

    private static string Reason(Run latest, CalibrationRecord calibration, MachineCompliance? compliance)
    {
        var reasons = new List<Sentence>();
        if (latest.Head.CalibrationId != calibration.Id)
            reasons.Add(CoreText.RecalculatedUnder(calibration.Id, calibration.AcceptedAt, latest.Head.CalibrationId));
        string? before = latest.Reading?.ComplianceId;
        if (before != compliance?.Id)
            reasons.Add(compliance?.Id is { } id ? CoreText.RecalculatedWithCompliance(id, before)
                : CoreText.RecalculatedWithoutCompliance(before));
        return reasons.Count > 0 ? string.Join("; ", reasons) : CoreText.RecalculatedAgain(calibration.Id);
    }
}
