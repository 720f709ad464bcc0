using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Runs;

/// <summary>Which calibrations the runs of a study were read by.</summary>
/// <param name="Runs">How many runs by calibration, in the order of their first run.</param>
/// <param name="Warning">What to know where they differ; null where there is one calibration.</param>
public sealed record CalibrationUse(IReadOnlyList<CalibrationUse.Count> Runs, Sentence? Warning)
{
    /// <summary>Looks through runs.</summary>
    public static CalibrationUse Of(IEnumerable<Run> runs)
    {
        Count[] counts = [.. runs.GroupBy(run => run.Head.CalibrationId).Select(group => new Count(group.Key, group.Count()))];
        Sentence? warning = counts.Length < 2 ? null : CoreText.RunsReadBySeveralCalibrations(counts.Length);
        return new CalibrationUse(counts, warning);
    }

    /// <summary>Runs under one calibration.</summary>
    /// <param name="CalibrationId">The calibration.</param>
    /// <param name="Runs">How many.</param>
    public sealed record Count(string CalibrationId, int Runs);
}
