using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration.Watching;

namespace RigDaq.Archive.Packages;

/// <summary>A device's check weight and every reading of it.</summary>
/// <param name="Plan">The mass.</param>
/// <param name="Readings">In the order of time.</param>
internal sealed record CheckWeightHistory(CheckWeightPlan Plan, IReadOnlyList<CheckWeightReading> Readings)
{
    /// <summary>That of a device; null where it has no check weight.</summary>
    public static CheckWeightHistory? Of(RigDiary diary, string deviceId) =>
        diary.FindCheckWeight(deviceId) is { } plan ? new CheckWeightHistory(plan, diary.CheckWeightReadings(deviceId)) : null;

    /// <summary>What a diary does not have, as entries; a check weight that it has already stays.</summary>
    public IEnumerable<JournalEntry> Missing(RigDiary diary, DateTimeOffset now)
    {
        if (diary.FindCheckWeight(Plan.DeviceId) is null) yield return Entries.Note(NoteKinds.CheckWeight, Plan.DeviceId, Plan, now);
        HashSet<DateTimeOffset> known = [.. diary.CheckWeightReadings(Plan.DeviceId).Select(reading => reading.At)];
        foreach (CheckWeightReading reading in Readings.Where(reading => known.Add(reading.At)))
            yield return Entries.Note(NoteKinds.CheckReading, NoteKinds.ByTime(Plan.DeviceId, reading.At), reading, now);
    }

    public static PackageTable Table(IReadOnlyList<CheckWeightHistory> histories) => new(
        "check-weights",
        ArchiveText.CheckWeightsTitle,
        [
            new("device_id", "string", ArchiveText.CheckWeightsDeviceId), new("read_at", "datetime", ArchiveText.CheckWeightsReadAt),
                new("calibration_id", "string", ArchiveText.CheckWeightsCalibrationId),
            new("reading_N", "number", ArchiveText.CheckWeightsReading, "N"),
                new("reference_N", "number", ArchiveText.CheckWeightsReference, "N"),
            new("reference_standard_uncertainty_N", "number", ArchiveText.CheckWeightsReferenceStandardUncertainty, "N"),
        ],
        histories.SelectMany(history => history.Readings.Select(reading => (IReadOnlyList<object?>)
        [
            history.Plan.DeviceId, reading.At, reading.CalibrationId, reading.ForceNewtons, history.Plan.Reference.Newtons,
                history.Plan.Reference.StandardUncertaintyNewtons,
        ])),
        []);
}
