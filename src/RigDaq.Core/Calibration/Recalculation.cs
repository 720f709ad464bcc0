using RigDaq.Core.Signal;
using RigDaq.Core.Strength;

namespace RigDaq.Core.Calibration;

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

    /// <summary>The pull as it would have been kept under another calibration of the same device; the raw samples are the same.</summary>
    /// <exception cref="ArgumentException">The calibration is another device's.</exception>
    public static PullRecord Under(PullRecord pull, CalibrationRecord calibration)
    {
        if (calibration.DeviceId != pull.Head.Device.Id)
        {
            throw new ArgumentException(
                $"The calibration is for the device {calibration.DeviceId}; the pull was measured by {pull.Head.Device.Id}.", nameof(calibration));
        }

        return pull with { Head = pull.Head with { CalibrationId = calibration.Id } };
    }

    /// <summary>The reason that goes with the revision.</summary>
    public static string RevisionReason(string fromCalibrationId, CalibrationRecord calibration) =>
        FormattableString.Invariant($"Read under the calibration {calibration.Id} of {calibration.AcceptedAt:yyyy-MM-dd} instead of {fromCalibrationId}.");
}

/// <summary>Which calibrations the runs of a study were read by.</summary>
/// <param name="Runs">How many runs by calibration, in the order of their first run.</param>
/// <param name="Warning">What to know where they differ; null where there is one calibration.</param>
public sealed record CalibrationUse(IReadOnlyList<CalibrationUse.Count> Runs, string? Warning)
{
    /// <summary>Looks through runs.</summary>
    public static CalibrationUse Of(IEnumerable<Run> runs)
    {
        Count[] counts = [.. runs.GroupBy(run => run.Head.CalibrationId).Select(group => new Count(group.Key, group.Count()))];
        string? warning = counts.Length < 2 ? null
            : $"The runs were read by {counts.Length} calibrations. Their share of the uncertainty does not cancel between groups: "
                + "read all runs under one calibration, or compare only runs under the same.";
        return new CalibrationUse(counts, warning);
    }

    /// <summary>Runs under one calibration.</summary>
    /// <param name="CalibrationId">The calibration.</param>
    /// <param name="Runs">How many.</param>
    public sealed record Count(string CalibrationId, int Runs);
}
