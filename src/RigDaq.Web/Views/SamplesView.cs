using RigDaq.Core.Trace;

namespace RigDaq.Web.Views;

/// <summary>A run's samples as they were measured: nothing smoothed, nothing left out.</summary>
/// <param name="RunId">Which run.</param>
/// <param name="CalibrationId">What turned counts into forces.</param>
/// <param name="TimeSeconds">Since the first sample, by the device's clock.</param>
/// <param name="ForceNewtons">Above zero; one for each time.</param>
/// <param name="PositionMillimetres">Of the crosshead; null where the device told none.</param>
internal sealed record SamplesView(string RunId, string CalibrationId, IReadOnlyList<double> TimeSeconds,
    IReadOnlyList<double> ForceNewtons,
    IReadOnlyList<double?>? PositionMillimetres)
{
    internal static SamplesView From(string runId, string calibrationId, ForceTrace trace) => new(runId, calibrationId, trace.TimesSeconds,
        trace.ForcesNewtons, trace.PositionsMillimetres?.Select(position => double.IsFinite(position) ? position : (double?)null)
            .ToArray());
}
