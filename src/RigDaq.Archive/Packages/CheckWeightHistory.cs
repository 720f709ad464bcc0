using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;

namespace RigDaq.Archive.Packages;

/// <summary>A device's check weight and every reading of it.</summary>
/// <param name="Plan">The mass.</param>
/// <param name="Readings">In the order of time.</param>
internal sealed record CheckWeightHistory(CheckWeightPlan Plan, IReadOnlyList<CheckWeightReading> Readings)
{
    /// <summary>That of a device; null where it has no check weight.</summary>
    public static CheckWeightHistory? Of(ICalibrationDiary diary, string deviceId) =>
        diary.FindCheckWeight(deviceId) is { } plan ? new CheckWeightHistory(plan, diary.CheckWeightReadings(deviceId)) : null;

    /// <summary>Adds what a diary does not have; a check weight that it has already stays.</summary>
    public void AddTo(ICalibrationDiary diary)
    {
        if (diary.FindCheckWeight(Plan.DeviceId) is null) diary.Save(Plan);
        HashSet<DateTimeOffset> known = [.. diary.CheckWeightReadings(Plan.DeviceId).Select(reading => reading.At)];
        foreach (CheckWeightReading reading in Readings.Where(reading => !known.Contains(reading.At))) diary.Add(Plan.DeviceId, reading);
    }

    public static PackageTable Table(IReadOnlyList<CheckWeightHistory> histories) => new(
        "check-weights",
        "The check weight, read before work",
        [
            new("device_id", "string", "The device"), new("read_at", "datetime", "When"), new("calibration_id", "string", "The calibration in force"),
            new("reading_N", "number", "What the rig read", "N"), new("reference_N", "number", "The weight's force", "N"),
            new("reference_standard_uncertainty_N", "number", "Of that force", "N"),
        ],
        histories.SelectMany(history => history.Readings.Select(reading => (IReadOnlyList<object?>)
        [
            history.Plan.DeviceId, reading.At, reading.CalibrationId, reading.ForceNewtons, history.Plan.Reference.Newtons, history.Plan.Reference.StandardUncertaintyNewtons,
        ])),
        []);
}
